"""The recipe box: brings a family's versions of a dish together."""
