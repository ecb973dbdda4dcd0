"""The sections of a line file, one module a part of the line."""
