"""The commands: each reads its arguments, calls one function, prints one answer."""
