"""What to look for in a plate: limits, plates looked at, the window that holds, and how it is said."""

from calmshaft.choosing.choice import Choice, Range, Window, choose

__all__ = ["Choice", "Range", "Window", "choose"]
