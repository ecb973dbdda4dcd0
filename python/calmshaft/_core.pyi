"""
Compiled part of calmshaft. Values are SI and radians.
"""
from __future__ import annotations
import collections.abc
import enum
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Chain', 'Combustion', 'Condition', 'Contact', 'Drag', 'Engine', 'EngineFriction', 'Fault', 'Fuel', 'Fuelling', 'Gear', 'GearMesh', 'Gearbox', 'Governor', 'Line', 'LineError', 'LinearLine', 'LinearSpring', 'LoadCase', 'LoadedPair', 'ManoeuvreOptions', 'MassElastic', 'MassElasticTable', 'PartStation', 'Plate', 'PlateSide', 'PlateStage', 'PreparedLine', 'Propeller', 'Ramp', 'Schedule', 'Shaft', 'SolveError', 'SquareLoad', 'StagedDamper', 'Station', 'TableConnection', 'TableMass', 'ToothContact', 'UnloadedPair', 'burn_rate', 'burnt_fraction', 'check', 'check_chain', 'cylinder_pressure', 'cylinder_volume', 'default_combustion', 'default_friction', 'dry_friction_torque', 'elastic_torque', 'engine_friction_torque', 'excitation', 'firing_angles', 'firing_phasor', 'friction_pressure', 'linear_line', 'linear_start', 'linearised', 'mass_elastic_system', 'mean_gas_torque', 'mean_moving_inertia', 'measure_list', 'moving_inertia', 'near_matches', 'orders', 'oscillate', 'piston_motion', 'rainflow', 'raise_line_error', 'simulate', 'steady', 'sweep', 'time_history']
class Fault:
    """
    One fault of a line's description.
    """
    def __eq__(self, arg0: Fault) -> bool:
        ...
    def __getstate__(self) -> tuple:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, path: str, value: str, rule: str, advice: str, warning: bool = False) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def advice(self) -> str:
        """
        What to write instead.
        """
    @property
    def path(self) -> str:
        """
        Key in the line file, e.g. plate.stages[0].stiffness.
        """
    @property
    def rule(self) -> str:
        """
        What must hold.
        """
    @property
    def value(self) -> str:
        """
        The value as understood, with its unit.
        """
    @property
    def warning(self) -> bool:
        """
        True where the line can be run all the same.
        """
class LineError(ValueError):
    """
    The description of a line is wrong. `faults` is a tuple of every Fault found.
    """
    faults: typing.ClassVar[tuple] = tuple()
class SolveError(RuntimeError):
    """
    The numbers failed; the message says when and where.
    """
class Fuel(enum.Enum):
    diesel: typing.ClassVar[Fuel]
    petrol: typing.ClassVar[Fuel]
    @classmethod
    def __new__(cls, value):
        ...
class Gear(enum.Enum):
    ahead: typing.ClassVar[Gear]
    astern: typing.ClassVar[Gear]
    neutral: typing.ClassVar[Gear]
    @classmethod
    def __new__(cls, value):
        ...
class LoadCase(enum.Enum):
    none: typing.ClassVar[LoadCase]
    tied_up: typing.ClassVar[LoadCase]
    torque: typing.ClassVar[LoadCase]
    under_way: typing.ClassVar[LoadCase]
    @classmethod
    def __new__(cls, value):
        ...
class Fuelling(enum.Enum):
    fixed: typing.ClassVar[Fuelling]
    governed: typing.ClassVar[Fuelling]
    @classmethod
    def __new__(cls, value):
        ...
class Combustion:
    """
    Heat release and gas exchange of one cylinder; angles after firing top dead centre.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Combustion) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def burn_coefficient(self) -> float:
        """
        [-] a of the Wiebe function
        """
    @burn_coefficient.setter
    def burn_coefficient(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def burn_duration(self) -> float:
        """
        [rad]
        """
    @burn_duration.setter
    def burn_duration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def burn_exponent(self) -> float:
        """
        [-] m of the Wiebe function
        """
    @burn_exponent.setter
    def burn_exponent(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def burn_start(self) -> float:
        """
        [rad]
        """
    @burn_start.setter
    def burn_start(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def exhaust_opens(self) -> float:
        """
        [rad]
        """
    @exhaust_opens.setter
    def exhaust_opens(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def exhaust_pressure(self) -> float:
        """
        [Pa] absolute
        """
    @exhaust_pressure.setter
    def exhaust_pressure(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inlet_closes(self) -> float:
        """
        [rad] negative: before top dead centre
        """
    @inlet_closes.setter
    def inlet_closes(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inlet_pressure(self) -> float:
        """
        [Pa] absolute
        """
    @inlet_pressure.setter
    def inlet_pressure(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def polytropic_exponent(self) -> float:
        """
        [-] compression and expansion alike
        """
    @polytropic_exponent.setter
    def polytropic_exponent(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class EngineFriction:
    """
    Mean effective friction pressure over speed.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: EngineFriction) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def constant(self) -> float:
        """
        [Pa]
        """
    @constant.setter
    def constant(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def per_piston_speed_squared(self) -> float:
        """
        [Pa s^2/m^2]
        """
    @per_piston_speed_squared.setter
    def per_piston_speed_squared(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def per_speed(self) -> float:
        """
        [Pa s/rad] of crank speed
        """
    @per_speed.setter
    def per_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class Engine:
    """
    Crank, pistons, rods and rating.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Engine) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def bore(self) -> float:
        """
        [m]
        """
    @bore.setter
    def bore(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def combustion(self) -> Combustion:
        """
        Combustion
        """
    @combustion.setter
    def combustion(self, arg0: Combustion) -> None:
        ...
    @property
    def compression_ratio(self) -> float:
        """
        [-]
        """
    @compression_ratio.setter
    def compression_ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def crank_inertia(self) -> float:
        """
        [kg m^2] without rods and flywheel
        """
    @crank_inertia.setter
    def crank_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def firing_angles(self) -> tuple:
        """
        [rad] firing top dead centre by cylinder number
        """
    @firing_angles.setter
    def firing_angles(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def friction(self) -> EngineFriction:
        """
        EngineFriction
        """
    @friction.setter
    def friction(self, arg0: EngineFriction) -> None:
        ...
    @property
    def fuel(self) -> Fuel:
        """
        Fuel
        """
    @fuel.setter
    def fuel(self, arg0: Fuel) -> None:
        ...
    @property
    def piston_mass(self) -> float:
        """
        [kg] with pin and rings
        """
    @piston_mass.setter
    def piston_mass(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_speed(self) -> float:
        """
        [rad/s]
        """
    @rated_speed.setter
    def rated_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_torque(self) -> float:
        """
        [N m] brake
        """
    @rated_torque.setter
    def rated_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rod_centre_from_big_end(self) -> float:
        """
        [m] centre of mass
        """
    @rod_centre_from_big_end.setter
    def rod_centre_from_big_end(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rod_inertia(self) -> float:
        """
        [kg m^2] about its centre of mass
        """
    @rod_inertia.setter
    def rod_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rod_length(self) -> float:
        """
        [m] between bore centres
        """
    @rod_length.setter
    def rod_length(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rod_mass(self) -> float:
        """
        [kg]
        """
    @rod_mass.setter
    def rod_mass(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stroke(self) -> float:
        """
        [m]
        """
    @stroke.setter
    def stroke(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def strokes(self) -> int:
        """
        2 or 4
        """
    @strokes.setter
    def strokes(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class PlateStage:
    """
    One stage of the plate's springs.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: PlateStage) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad]
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def until(self) -> float:
        """
        [rad] twist from the middle where the next stage begins
        """
    @until.setter
    def until(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class PlateSide:
    """
    Springs and stop of one direction.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: PlateSide) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def stages(self) -> tuple:
        """
        PlateStage, from the middle outwards
        """
    @stages.setter
    def stages(self, arg1: collections.abc.Sequence[PlateStage]) -> None:
        ...
    @property
    def stop_angle(self) -> float:
        """
        [rad] from the middle of the free play
        """
    @stop_angle.setter
    def stop_angle(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class Plate:
    """
    The spring damper plate between flywheel and gearbox input.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Plate) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def coast(self) -> PlateSide:
        """
        PlateSide
        """
    @coast.setter
    def coast(self, arg0: PlateSide) -> None:
        ...
    @property
    def drive(self) -> PlateSide:
        """
        PlateSide
        """
    @drive.setter
    def drive(self, arg0: PlateSide) -> None:
        ...
    @property
    def free_play(self) -> float:
        """
        [rad] whole width
        """
    @free_play.setter
    def free_play(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def hub_inertia(self) -> float:
        """
        [kg m^2] turns with the gearbox input
        """
    @hub_inertia.setter
    def hub_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def hysteresis_full_width(self) -> float:
        """
        [N m] twice the friction torque
        """
    @hysteresis_full_width.setter
    def hysteresis_full_width(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def presliding_angle(self) -> float:
        """
        [rad] from a reversal to full sliding from rest
        """
    @presliding_angle.setter
    def presliding_angle(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_torque(self) -> float | None:
        """
        [N m] as its maker states it, or None
        """
    @rated_torque.setter
    def rated_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex | None) -> None:
        ...
    @property
    def rigid(self) -> bool:
        """
        a solid drive
        """
    @rigid.setter
    def rigid(self, arg0: bool) -> None:
        ...
    @property
    def stop_restitution(self) -> float:
        """
        [-]
        """
    @stop_restitution.setter
    def stop_restitution(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stop_stiffness(self) -> float:
        """
        [N m/rad]
        """
    @stop_stiffness.setter
    def stop_stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def viscous_damping(self) -> float:
        """
        [N m s/rad]
        """
    @viscous_damping.setter
    def viscous_damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class ToothContact:
    """
    Teeth of one gear pair, at the gearbox input shaft.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: ToothContact) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def backlash(self) -> float:
        """
        [rad] whole width
        """
    @backlash.setter
    def backlash(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def restitution(self) -> float:
        """
        [-] at restitution_speed
        """
    @restitution.setter
    def restitution(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def restitution_speed(self) -> float:
        """
        [rad/s]
        """
    @restitution_speed.setter
    def restitution_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad]
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class LoadedPair:
    """
    The gear pair that drives the shaft.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: LoadedPair) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def contact(self) -> ToothContact:
        """
        ToothContact
        """
    @contact.setter
    def contact(self, arg0: ToothContact) -> None:
        ...
    @property
    def output_inertia(self) -> float:
        """
        [kg m^2] at the output shaft
        """
    @output_inertia.setter
    def output_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def ratio(self) -> float:
        """
        [-] input turns per output turn, positive
        """
    @ratio.setter
    def ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class UnloadedPair:
    """
    A gear pair that turns along without load.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: UnloadedPair) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def contact(self) -> ToothContact:
        """
        ToothContact
        """
    @contact.setter
    def contact(self, arg0: ToothContact) -> None:
        ...
    @property
    def drag(self) -> float:
        """
        [N m] at the gear pair
        """
    @drag.setter
    def drag(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inertia(self) -> float:
        """
        [kg m^2] at the input shaft
        """
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def turns_in_ahead(self) -> bool:
        """
        bool
        """
    @turns_in_ahead.setter
    def turns_in_ahead(self, arg0: bool) -> None:
        ...
    @property
    def turns_in_astern(self) -> bool:
        """
        bool
        """
    @turns_in_astern.setter
    def turns_in_astern(self, arg0: bool) -> None:
        ...
    @property
    def turns_in_neutral(self) -> bool:
        """
        bool
        """
    @turns_in_neutral.setter
    def turns_in_neutral(self, arg0: bool) -> None:
        ...
class Gearbox:
    """
    Gears between plate and shaft.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Gearbox) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def ahead(self) -> LoadedPair | None:
        """
        LoadedPair or None
        """
    @ahead.setter
    def ahead(self, arg0: LoadedPair | None) -> None:
        ...
    @property
    def astern(self) -> LoadedPair | None:
        """
        LoadedPair or None
        """
    @astern.setter
    def astern(self, arg0: LoadedPair | None) -> None:
        ...
    @property
    def input_drag(self) -> float:
        """
        [N m] pump and seals
        """
    @input_drag.setter
    def input_drag(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def input_inertia(self) -> float:
        """
        [kg m^2] all that always turns with the input
        """
    @input_inertia.setter
    def input_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_torque(self) -> float:
        """
        [N m] at the input
        """
    @rated_torque.setter
    def rated_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def unloaded(self) -> tuple:
        """
        UnloadedPair
        """
    @unloaded.setter
    def unloaded(self, arg1: collections.abc.Sequence[UnloadedPair]) -> None:
        ...
class Shaft:
    """
    The propeller shaft.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Shaft) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def damping_ratio(self) -> float:
        """
        [-] of critical
        """
    @damping_ratio.setter
    def damping_ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def divisions(self) -> int:
        """
        springs in series
        """
    @divisions.setter
    def divisions(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def inertia(self) -> float:
        """
        [kg m^2] whole length
        """
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad] whole length
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class Propeller:
    """
    Inertia, water and torque law.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Propeller) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def absorbs_speed(self) -> float:
        """
        [rad/s] crank speed of that torque
        """
    @absorbs_speed.setter
    def absorbs_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def absorbs_torque(self) -> float:
        """
        [N m] at the gearbox input, under way ahead
        """
    @absorbs_torque.setter
    def absorbs_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def extra_damping(self) -> float:
        """
        [-] times mean torque over mean speed
        """
    @extra_damping.setter
    def extra_damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inertia(self) -> float:
        """
        [kg m^2] dry
        """
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tied_up_factor(self) -> float:
        """
        [-] torque tied up over torque under way
        """
    @tied_up_factor.setter
    def tied_up_factor(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def water_inertia(self) -> float:
        """
        [kg m^2] entrained water
        """
    @water_inertia.setter
    def water_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class PartStation(enum.Enum):
    crank: typing.ClassVar[PartStation]
    gearbox_input: typing.ClassVar[PartStation]
    gearbox_output: typing.ClassVar[PartStation]
    none: typing.ClassVar[PartStation]
    propeller: typing.ClassVar[PartStation]
    @classmethod
    def __new__(cls, value):
        ...
class TableMass:
    """
    One mass of a mass-elastic table.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: TableMass) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def inertia(self) -> float:
        """
        [kg m^2] on its own shaft
        """
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def part(self) -> PartStation:
        """
        PartStation that this row is; its inertia then stands in the part
        """
    @part.setter
    def part(self, arg0: PartStation) -> None:
        ...
    @property
    def speed_ratio(self) -> float:
        """
        [-] own speed over the crank's, going ahead
        """
    @speed_ratio.setter
    def speed_ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class TableConnection:
    """
    One spring or rigid gear pair of a mass-elastic table.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: TableConnection) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def damping(self) -> float:
        """
        [N m s/rad]
        """
    @damping.setter
    def damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def from_row(self) -> int:
        """
        row of the masses
        """
    @from_row.setter
    def from_row(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad]; infinite: a rigid gear pair or flange
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def to_row(self) -> int:
        """
        row of the masses
        """
    @to_row.setter
    def to_row(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class MassElasticTable:
    """
    Masses and connections beside or in place of parts.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: MassElasticTable) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def connections(self) -> tuple:
        """
        tuple of TableConnection
        """
    @connections.setter
    def connections(self, arg1: collections.abc.Sequence[TableConnection]) -> None:
        ...
    @property
    def masses(self) -> tuple:
        """
        tuple of TableMass
        """
    @masses.setter
    def masses(self, arg1: collections.abc.Sequence[TableMass]) -> None:
        ...
class Line:
    """
    A line from engine to propeller. SI and radians.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Line) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def engine(self) -> Engine:
        """
        Engine
        """
    @engine.setter
    def engine(self, arg0: Engine) -> None:
        ...
    @property
    def flywheel_inertia(self) -> float:
        """
        [kg m^2]
        """
    @flywheel_inertia.setter
    def flywheel_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def gearbox(self) -> Gearbox:
        """
        Gearbox
        """
    @gearbox.setter
    def gearbox(self, arg0: Gearbox) -> None:
        ...
    @property
    def plate(self) -> Plate:
        """
        Plate
        """
    @plate.setter
    def plate(self, arg0: Plate) -> None:
        ...
    @property
    def propeller(self) -> Propeller | None:
        """
        Propeller or None
        """
    @propeller.setter
    def propeller(self, arg0: Propeller | None) -> None:
        ...
    @property
    def shaft(self) -> Shaft | None:
        """
        Shaft or None
        """
    @shaft.setter
    def shaft(self, arg0: Shaft | None) -> None:
        ...
    @property
    def table(self) -> MassElasticTable:
        """
        MassElasticTable, empty where the parts say all
        """
    @table.setter
    def table(self, arg0: MassElasticTable) -> None:
        ...
    @property
    def title(self) -> str:
        """
        for people
        """
    @title.setter
    def title(self, arg0: str) -> None:
        ...
class Condition:
    """
    What the line is asked about.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Condition) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def fuelling(self) -> Fuelling:
        """
        Fuelling
        """
    @fuelling.setter
    def fuelling(self, arg0: Fuelling) -> None:
        ...
    @property
    def gear(self) -> Gear:
        """
        Gear
        """
    @gear.setter
    def gear(self, arg0: Gear) -> None:
        ...
    @property
    def load(self) -> LoadCase:
        """
        LoadCase
        """
    @load.setter
    def load(self, arg0: LoadCase) -> None:
        ...
    @property
    def load_torque(self) -> float:
        """
        [N m] at the gearbox input, for LoadCase.torque
        """
    @load_torque.setter
    def load_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def speed(self) -> float:
        """
        [rad/s] mean crank speed
        """
    @speed.setter
    def speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def strengths(self) -> tuple:
        """
        [-] 0..1 by cylinder number; empty: all healthy
        """
    @strengths.setter
    def strengths(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
class Contact:
    """
    Hunt-Crossley contact: stiffness x penetration x (1 + damping_factor x speed).
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Contact) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def damping_factor(self) -> float:
        """
        [s/rad]
        """
    @damping_factor.setter
    def damping_factor(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad]
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class LinearSpring:
    """
    A spring with viscous damping between two stations.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: LinearSpring) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def damping(self) -> float:
        """
        [N m s/rad]
        """
    @damping.setter
    def damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def from_station(self) -> int:
        """
        index
        """
    @from_station.setter
    def from_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def stiffness(self) -> float:
        """
        [N m/rad]
        """
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def to_station(self) -> int:
        """
        index, after from_station
        """
    @to_station.setter
    def to_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class Ramp:
    """
    One corner of a piecewise linear torque: slope x max(0, side x twist - corner).
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Ramp) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def corner(self) -> float:
        """
        [rad] twist where it begins
        """
    @corner.setter
    def corner(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def side(self) -> float:
        """
        [-] +1 drive, -1 coast
        """
    @side.setter
    def side(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def slope(self) -> float:
        """
        [N m/rad] change of stiffness there
        """
    @slope.setter
    def slope(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class StagedDamper:
    """
    Stages, dry friction, viscous damping and stops between two stations.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: StagedDamper) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def coast_stop(self) -> float:
        """
        [rad] positive
        """
    @coast_stop.setter
    def coast_stop(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def damping(self) -> float:
        """
        [N m s/rad]
        """
    @damping.setter
    def damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def drive_stop(self) -> float:
        """
        [rad]
        """
    @drive_stop.setter
    def drive_stop(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def friction_torque(self) -> float:
        """
        [N m] half of the hysteresis width
        """
    @friction_torque.setter
    def friction_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def from_station(self) -> int:
        """
        index
        """
    @from_station.setter
    def from_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def presliding_angle(self) -> float:
        """
        [rad] from rest to sliding
        """
    @presliding_angle.setter
    def presliding_angle(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def ramps(self) -> tuple:
        """
        tuple of Ramp
        """
    @ramps.setter
    def ramps(self, arg1: collections.abc.Sequence[Ramp]) -> None:
        ...
    @property
    def stop(self) -> Contact:
        """
        Contact; without stiffness there is no stop
        """
    @stop.setter
    def stop(self, arg0: Contact) -> None:
        ...
    @property
    def to_station(self) -> int:
        """
        index, after from_station
        """
    @to_station.setter
    def to_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class GearMesh:
    """
    Two flanks with a gap between them.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: GearMesh) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def contact(self) -> Contact:
        """
        Contact
        """
    @contact.setter
    def contact(self, arg0: Contact) -> None:
        ...
    @property
    def from_station(self) -> int:
        """
        index
        """
    @from_station.setter
    def from_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def half_backlash(self) -> float:
        """
        [rad] at from_station
        """
    @half_backlash.setter
    def half_backlash(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def ratio(self) -> float:
        """
        [-] turns of from_station per turn of to_station, negative where it reverses
        """
    @ratio.setter
    def ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def to_station(self) -> int:
        """
        index, after from_station
        """
    @to_station.setter
    def to_station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class Station:
    """
    An inertia on its own shaft.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Station) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def inertia(self) -> float:
        """
        [kg m^2]
        """
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def speed_ratio(self) -> float:
        """
        [-] own speed over that of station 0
        """
    @speed_ratio.setter
    def speed_ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class SquareLoad:
    """
    coefficient x (w |w| + extra_damping x |mean w| x (w - mean w)).
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: SquareLoad) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def coefficient(self) -> float:
        """
        [N m s^2/rad^2]
        """
    @coefficient.setter
    def coefficient(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def extra_damping(self) -> float:
        """
        [-]
        """
    @extra_damping.setter
    def extra_damping(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def station(self) -> int:
        """
        index
        """
    @station.setter
    def station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
class Drag:
    """
    A constant torque against the motion.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Drag) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def name(self) -> str:
        """
        for people
        """
    @name.setter
    def name(self, arg0: str) -> None:
        ...
    @property
    def station(self) -> int:
        """
        index
        """
    @station.setter
    def station(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def torque(self) -> float:
        """
        [N m]
        """
    @torque.setter
    def torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class MassElastic:
    """
    Stations joined to a tree by couplings and slowed by loads.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: MassElastic) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def couplings(self) -> tuple:
        """
        tuple of LinearSpring, StagedDamper and GearMesh
        """
    @couplings.setter
    def couplings(self, arg1: collections.abc.Sequence[LinearSpring | StagedDamper | GearMesh]) -> None:
        ...
    @property
    def loads(self) -> tuple:
        """
        tuple of SquareLoad and Drag
        """
    @loads.setter
    def loads(self, arg1: collections.abc.Sequence[SquareLoad | Drag]) -> None:
        ...
    @property
    def stations(self) -> tuple:
        """
        tuple of Station
        """
    @stations.setter
    def stations(self, arg1: collections.abc.Sequence[Station]) -> None:
        ...
class PreparedLine:
    """
    A checked line with its engine's cycles worked out.
    """
    @typing.overload
    def __init__(self, line: Line) -> None:
        """
        Raises LineError with every fault of the line.
        """
    @typing.overload
    def __init__(self, line: Line, like: PreparedLine) -> None:
        """
        The same; where `like` has the same engine its cycles serve both. Raises LineError.
        """
class Chain:
    """
    Discs on shafts, one after the other (SI).
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Chain) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def dampings(self) -> tuple:
        """
        [N m s/rad] one a joint, or empty
        """
    @dampings.setter
    def dampings(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def fixed(self) -> tuple:
        """
        Numbers of stations held still.
        """
    @fixed.setter
    def fixed(self, arg1: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex]) -> None:
        ...
    @property
    def ground_dampings(self) -> tuple:
        """
        [N m s/rad] one a station, or empty
        """
    @ground_dampings.setter
    def ground_dampings(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def ground_stiffnesses(self) -> tuple:
        """
        [N m/rad] one a station, or empty
        """
    @ground_stiffnesses.setter
    def ground_stiffnesses(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def inertias(self) -> tuple:
        """
        [kg m^2]
        """
    @inertias.setter
    def inertias(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def names(self) -> tuple:
        """
        Of the stations.
        """
    @names.setter
    def names(self, arg1: collections.abc.Sequence[str]) -> None:
        ...
    @property
    def speed_ratios(self) -> tuple:
        """
        [-] own speed over the first station's, or empty
        """
    @speed_ratios.setter
    def speed_ratios(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def stiffnesses(self) -> tuple:
        """
        [N m/rad] one a joint, None at a gear pair
        """
    @stiffnesses.setter
    def stiffnesses(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex | None]) -> None:
        ...
class LinearLine:
    """
    Stations and joints for linear questions (SI), each in its own frame.
    """
    def matrices(self) -> dict:
        """
        Inertia, damping, stiffness of the free coordinates, and their expansion.
        """
    def modes(self) -> dict:
        """
        Natural frequencies [rad/s], shapes (mode, station), damped poles [rad/s].
        """
    def response(self, omega: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 1]"], torque: typing.Annotated[numpy.typing.ArrayLike, numpy.complex128, "[m, n]"]) -> dict:
        """
        Answer to torques [N m] (omega, station). Raises SolveError at a resonance that nothing damps.
        """
    @property
    def damping(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def fixed(self) -> list[int]:
        """
        Numbers of stations held still.
        """
    @property
    def from_station(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def ground_damping(self) -> list[float]:
        """
        [N m s/rad] (station,)
        """
    @property
    def ground_stiffness(self) -> list[float]:
        """
        [N m/rad] (station,)
        """
    @property
    def inertia(self) -> list[float]:
        """
        [kg m^2] (station,)
        """
    @property
    def ratio(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def stiffness(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def to_station(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
class Schedule:
    """
    What a manoeuvre does over time. Tracks are lists of (time [s], value): straight between points.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Schedule) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def duration(self) -> float:
        """
        [s]
        """
    @duration.setter
    def duration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def engage(self) -> tuple:
        """
        [N m] capacity of the clutch of the gear to engage
        """
    @engage.setter
    def engage(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def engages(self) -> Gear | None:
        """
        Gear to change to, or None
        """
    @engages.setter
    def engages(self, arg0: Gear | None) -> None:
        ...
    @property
    def fault(self) -> tuple:
        """
        [-] 1: faulty_strengths hold, 0: those of the condition
        """
    @fault.setter
    def fault(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def faulty_strengths(self) -> tuple:
        """
        [-] 0..1 by cylinder number
        """
    @faulty_strengths.setter
    def faulty_strengths(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def fuel(self) -> tuple:
        """
        [-] 1 on, 0 off
        """
    @fuel.setter
    def fuel(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def load(self) -> tuple:
        """
        [-] factor of the propeller's torque
        """
    @load.setter
    def load(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def release(self) -> tuple:
        """
        [N m] capacity of the clutch of the gear at the start
        """
    @release.setter
    def release(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def speed(self) -> tuple:
        """
        [rad/s] mean crank speed asked of the governor
        """
    @speed.setter
    def speed(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def starter(self) -> tuple:
        """
        [-] 1 turns the crank at the condition's speed, 0 off
        """
    @starter.setter
    def starter(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
class Governor:
    """
    How the fuelling follows the speed.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: Governor) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def droop(self) -> float:
        """
        [-] fall of speed from no to rated torque, over rated speed
        """
    @droop.setter
    def droop(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def lag(self) -> float:
        """
        [s]
        """
    @lag.setter
    def lag(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def most_fuelling(self) -> float:
        """
        [-] 1 gives rated torque at rated speed
        """
    @most_fuelling.setter
    def most_fuelling(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class ManoeuvreOptions:
    """
    How a manoeuvre is integrated and sampled.
    """
    __hash__: typing.ClassVar[None] = None
    def __eq__(self, arg0: ManoeuvreOptions) -> bool:
        ...
    def __getstate__(self) -> dict:
        ...
    def __init__(self, **kwargs) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: dict) -> None:
        ...
    @property
    def governor(self) -> Governor:
        """
        Governor
        """
    @governor.setter
    def governor(self, arg0: Governor) -> None:
        ...
    @property
    def most_evaluations(self) -> int:
        """
        of the derivative, then the run ends
        """
    @most_evaluations.setter
    def most_evaluations(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def most_samples(self) -> int:
        """
        samples, whatever the interval
        """
    @most_samples.setter
    def most_samples(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def sample_interval(self) -> float:
        """
        [s] 0: by the greatest speed asked
        """
    @sample_interval.setter
    def sample_interval(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def settle_cycles(self) -> int:
        """
        engine cycles before time 0
        """
    @settle_cycles.setter
    def settle_cycles(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def stall_speed(self) -> float:
        """
        [rad/s] below it the engine no longer runs
        """
    @stall_speed.setter
    def stall_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tolerance(self) -> float:
        """
        [-] error of torque in a step over rated torque
        """
    @tolerance.setter
    def tolerance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
def burn_rate(combustion: Combustion, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    """
    Share of the heat released per angle [1/rad] at angles [rad].
    """
def burnt_fraction(combustion: Combustion, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    """
    Share of the heat [-] released at angles [rad].
    """
@typing.overload
def check(line: Line) -> list[Fault]:
    """
    Every Fault of a line, warnings included.
    """
@typing.overload
def check(line: Line, condition: Condition) -> list[Fault]:
    """
    What is wrong with asking this condition of the line.
    """
def check_chain(chain: Chain) -> list[Fault]:
    """
    Every fault of a chain.
    """
def cylinder_pressure(engine: Engine, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], heat: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> typing.Any:
    """
    Absolute pressure [Pa] in one cylinder at angles [rad] after firing top dead centre; heat [J] of a cycle.
    """
def cylinder_volume(engine: Engine, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    """
    Volume above one piston [m^3] at crank angles [rad].
    """
def default_combustion(fuel: Fuel, strokes: typing.SupportsInt | typing.SupportsIndex) -> Combustion:
    """
    Combustion to assume where nothing is known.
    """
def default_friction(fuel: Fuel, strokes: typing.SupportsInt | typing.SupportsIndex, stroke: typing.SupportsFloat | typing.SupportsIndex) -> EngineFriction:
    """
    EngineFriction to assume where nothing is known; stroke in [m].
    """
def dry_friction_torque(friction_torque: typing.SupportsFloat | typing.SupportsIndex, presliding_angle: typing.SupportsFloat | typing.SupportsIndex, twist: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    """
    Torque [N m] of a damper's dry friction along a path of twists [rad], from rest: elastic up to presliding_angle [rad] after each reversal, then friction_torque [N m], half of the hysteresis width.
    """
def elastic_torque(side: PlateSide, free_play: typing.SupportsFloat | typing.SupportsIndex, twist: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Torque [N m] of a plate side's springs at a twist [rad] from the middle; free_play [rad] whole width.
    """
def engine_friction_torque(engine: Engine, speed: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Friction torque [N m] of the whole engine at a crank speed [rad/s].
    """
def excitation(line: PreparedLine, condition: Condition) -> dict:
    """
    Fuelling that keeps the speed, and the engine's torque [N m] by orders 0.5, 1, ... 24, complex.
    """
def firing_angles(order: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], strokes: typing.SupportsInt | typing.SupportsIndex) -> list[float]:
    """
    Firing angles [rad] by cylinder number, evenly spaced; LineError where a number is missing or double.
    """
def firing_phasor(order: typing.SupportsFloat | typing.SupportsIndex, angles: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], strengths: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex] = []) -> complex:
    """
    Sum over cylinders of strength x exp(i x order x firing angle); angles [rad], strengths [-].
    """
def friction_pressure(friction: EngineFriction, stroke: typing.SupportsFloat | typing.SupportsIndex, speed: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Mean effective friction pressure [Pa] at a crank speed [rad/s]; stroke [m].
    """
def linear_line(chain: Chain) -> ...:
    """
    The linear line of a chain without faults.
    """
def linear_start(line: PreparedLine, condition: Condition, fuelling: typing.SupportsFloat | typing.SupportsIndex) -> dict:
    """
    Angles [rad] and speeds [rad/s] by station, slider twist [rad] of each damper: where the march begins.
    """
def linearised(line: PreparedLine, condition: Condition) -> dict:
    """
    The line at the condition's mean torque, contacts closed; names, speed ratios, kinds, means of its joints.
    """
def mass_elastic_system(line: PreparedLine, condition: Condition, nodes: typing.SupportsInt | typing.SupportsIndex = 1440) -> dict:
    """
    Stations, couplings, loads and crank tables that the integration uses, in SI.
    """
def mean_gas_torque(engine: Engine, heat: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> float:
    """
    Gas torque [N m] of one cylinder, averaged over its cycle; heat [J] of a cycle.
    """
def mean_moving_inertia(engine: Engine) -> float:
    """
    Inertia [kg m^2] of all pistons and rods at the crank, averaged over a turn.
    """
def moving_inertia(engine: Engine, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[typing.Any, typing.Any]:
    """
    Inertia [kg m^2] of one piston and rod at the crank and its slope [kg m^2/rad] at crank angles [rad].
    """
def near_matches(name: str, known: collections.abc.Sequence[str], at_most: typing.SupportsInt | typing.SupportsIndex = 3) -> list[str]:
    """
    The known names nearest to a misspelt one, nearest first; empty where none is near.
    """
def orders(samples: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], revolutions: typing.SupportsInt | typing.SupportsIndex = 2, highest_order: typing.SupportsInt | typing.SupportsIndex = 24) -> numpy.typing.NDArray[numpy.complex128]:
    """
    Complex amplitudes of orders 0.5, 1, ... of one cycle of equally spaced samples, in their unit; ValueError where they are too few for the highest order.
    """
def oscillate(system: MassElastic, *, duration: typing.SupportsFloat | typing.SupportsIndex, largest_step: typing.SupportsFloat | typing.SupportsIndex, angle: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], speed: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], mean_torque: typing.SupportsFloat | typing.SupportsIndex = 0.0, torque_amplitude: typing.SupportsFloat | typing.SupportsIndex = 0.0, frequency: typing.SupportsFloat | typing.SupportsIndex = 0.0, record_from: typing.SupportsFloat | typing.SupportsIndex = 0.0, relative_tolerance: typing.SupportsFloat | typing.SupportsIndex = 1e-10) -> dict:
    """
    A mass-elastic system in time under mean_torque + torque_amplitude x cos(frequency x time) [N m, rad/s] on station 0, by controlled steps of at most largest_step [s] from angle [rad] and speed [rad/s] by station. Gives time [s] of every step from record_from [s] on; angle [rad], speed [rad/s], acceleration [rad/s^2] (station, time); twist [rad], torque [N m], work [J] (coupling, time), springs first, then dampers, then meshes. Raises SolveError where the system is no tree or the steps do not reach duration [s].
    """
def piston_motion(engine: Engine, angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[typing.Any, typing.Any, typing.Any]:
    """
    Travel [m] from top dead centre, its slope [m/rad] and curvature [m/rad^2] at crank angles [rad].
    """
def rainflow(values: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple:
    """
    Ranges, means [unit of the values] and counts [-] of the cycles in a history, by the rule of ASTM E1049-85, 5.4.4; ValueError for a value that is not finite.
    """
def raise_line_error(faults: collections.abc.Sequence[Fault]) -> None:
    """
    Raises LineError with these faults, worded as those that the checks find.
    """
def simulate(line: PreparedLine, condition: Condition, schedule: Schedule, options: ManoeuvreOptions = ...) -> dict:
    """
    A line through a manoeuvre, as plain values.
    """
def steady(line: PreparedLine, condition: Condition, steps_per_cycle: typing.SupportsInt | typing.SupportsIndex = 0, most_cycles: typing.SupportsInt | typing.SupportsIndex = 72, method: str = 'leapfrog') -> dict:
    """
    Steady state of one condition as plain values; signals over the last period. method: 'leapfrog' or 'runge kutta'; raises ValueError for another.
    """
def sweep(lines: collections.abc.Sequence[PreparedLine], line_of_point: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], conditions: collections.abc.Sequence[Condition], threads: typing.SupportsInt | typing.SupportsIndex = 0, steps_per_cycle: typing.SupportsInt | typing.SupportsIndex = 0, report: typing.Any = None, phase_step: typing.SupportsFloat | typing.SupportsIndex = 0.0, column: typing.SupportsInt | typing.SupportsIndex = 1, method: str = 'leapfrog') -> dict:
    """
    Steady state of many conditions on all cores; arrays (point,) and (point, measure). `report(done)` is called about twenty times a second. phase_step: most that the highest mode may turn in a step [rad] where steps_per_cycle is 0; 0: the method's usual. column: so many points in a row start each from the end of the one before. method: 'leapfrog' or 'runge kutta'; raises ValueError for another.
    """
def time_history(line: PreparedLine, condition: Condition, fuelling: typing.SupportsFloat | typing.SupportsIndex, cycles: typing.SupportsInt | typing.SupportsIndex = 60, kept: typing.SupportsInt | typing.SupportsIndex = 1, relative_tolerance: typing.SupportsFloat | typing.SupportsIndex = 1e-08, held_speed: typing.SupportsFloat | typing.SupportsIndex | None = None, start: tuple[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]] | None = None) -> dict:
    """
    The condition in time under step control: time [s] and crank_angle [rad] (node,), torque [N m] and twist [rad] (coupling, node) over the last `kept` engine cycles; fuelling [-] of each cycle; crank_speed [rad/s] at the end; stats.
    
    held_speed: mean crank speed [rad/s] that the fuelling is trimmed to hold, else the fuelling stays. start: (speed [rad/s] (station,), twist [rad] (coupling,), torque [N m] (coupling,)) at crank angle 0, as the first node of a steady result's signals; else the linear start. Raises ValueError.
    """
__version__: str = '0.1.0'
measure_list: tuple = (('mesh_torque_ripple', 'N m', 'peak to peak torque in the loaded mesh, at its input side', True), ('mesh_torque_half_range', 'N m', 'half of the peak to peak torque in the loaded mesh, full band', True), ('mesh_torque_vibratory', 'N m', 'vibratory torque in the loaded mesh (half range of orders 0.5 to 12 together)', False), ('mesh_torque_mean', 'N m', 'mean torque over crank angle in the loaded mesh', False), ('mesh_torque_min', 'N m', 'least torque in the loaded mesh', True), ('mesh_torque_max', 'N m', 'greatest torque in the loaded mesh', True), ('mesh_drive_share', '1', 'share of time with the loaded mesh on its drive flanks', False), ('mesh_separated_share', '1', 'share of time with the loaded mesh out of contact', False), ('mesh_coast_share', '1', 'share of time with the loaded mesh on its coast flanks', False), ('mesh_impact_power', 'W', "power dissipated in the loaded mesh's contacts", False), ('unloaded_mesh_torque_ripple', 'N m', 'peak to peak torque in the unloaded pair, the largest of all pairs', True), ('unloaded_mesh_separated_share', '1', 'share of time out of contact, the largest of all unloaded pairs', False), ('unloaded_mesh_coast_share', '1', 'share of time on the coast flanks, the largest of all unloaded pairs', False), ('unloaded_mesh_impact_power', 'W', 'power dissipated in the contacts of all unloaded pairs together', False), ('plate_twist_min', 'rad', 'least twist of the plate, from the middle of its free play', True), ('plate_twist_max', 'rad', 'greatest twist of the plate, from the middle of its free play', True), ('plate_torque_ripple', 'N m', 'peak to peak torque through the plate', True), ('plate_torque_mean', 'N m', 'mean torque over crank angle through the plate', False), ('plate_torque_min', 'N m', 'least torque through the plate', True), ('plate_torque_max', 'N m', 'greatest torque through the plate', True), ('plate_stop_share', '1', "share of time with the plate's hub on a stop", False), ('plate_friction_power', 'W', "power dissipated by the plate's dry friction", False), ('plate_heat_power', 'W', 'power dissipated in the plate by friction, damping and stops together', False), ('cyclic_irregularity', '1', 'greatest less least flywheel speed over its mean', True), ('brake_torque', 'N m', 'mean gas torque less engine friction, at the flywheel', False), ('mean_rpm', 'rpm', 'mean crank speed', False))
