"""The phone's room: log a price in the shop, see what dishes cost; nothing else of the desk."""
