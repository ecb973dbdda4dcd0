"""What a plate lives through: its stages, stops, heat and springs in a steady condition, and over a diary of duty."""

from calmshaft.duty.life import PlateLife, plate_life
from calmshaft.duty.over_speed import plate_over_rpm
from calmshaft.duty.plate import PlateDuty, plate_duty

__all__ = ["PlateDuty", "PlateLife", "plate_duty", "plate_life", "plate_over_rpm"]
