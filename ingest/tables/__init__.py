"""From the bytes of any table to lines with a price, by a layout that is kept."""
