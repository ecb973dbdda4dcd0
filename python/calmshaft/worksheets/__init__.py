"""Worksheets to print: what to do and read, the sum with an example, where it goes in the line file, the caution."""

from calmshaft.worksheets.page import Worksheet, worksheet, worksheets

__all__ = ["Worksheet", "worksheet", "worksheets"]
