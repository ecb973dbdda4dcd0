"""
Compiled part of calmshaft. Values are SI and radians.
"""
from __future__ import annotations
import collections.abc
import enum
import typing
__all__: list[str] = ['Combustion', 'Condition', 'Engine', 'EngineFriction', 'Fault', 'Fuel', 'Fuelling', 'Gear', 'Gearbox', 'Line', 'LineError', 'LoadCase', 'LoadedPair', 'Plate', 'PlateSide', 'PlateStage', 'PreparedLine', 'Propeller', 'Shaft', 'SolveError', 'ToothContact', 'UnloadedPair', 'check', 'default_combustion', 'default_friction', 'elastic_torque', 'firing_angles', 'mass_elastic_system', 'measure_list', 'modes', 'near_matches', 'raise_line_error', 'steady', 'sweep']
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
class PreparedLine:
    """
    A checked line with its engine's cycles worked out.
    """
    def __init__(self, line: Line) -> None:
        """
        Raises LineError with every fault of the line.
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
def default_combustion(fuel: Fuel, strokes: typing.SupportsInt | typing.SupportsIndex) -> Combustion:
    """
    Combustion to assume where nothing is known.
    """
def default_friction(fuel: Fuel, strokes: typing.SupportsInt | typing.SupportsIndex, stroke: typing.SupportsFloat | typing.SupportsIndex) -> EngineFriction:
    """
    EngineFriction to assume where nothing is known; stroke in [m].
    """
def elastic_torque(side: PlateSide, free_play: typing.SupportsFloat | typing.SupportsIndex, twist: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Torque [N m] of a plate side's springs at a twist [rad] from the middle; free_play [rad] whole width.
    """
def firing_angles(order: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], strokes: typing.SupportsInt | typing.SupportsIndex) -> list[float]:
    """
    Firing angles [rad] by cylinder number, evenly spaced; LineError where a number is missing or double.
    """
def mass_elastic_system(line: PreparedLine, condition: Condition, nodes: typing.SupportsInt | typing.SupportsIndex = 1440) -> dict:
    """
    Stations, couplings, loads and crank tables that the integration uses, in SI.
    """
def modes(line: PreparedLine, condition: Condition) -> dict:
    """
    Natural frequencies [rad/s], shapes and poles at the condition's mean torque, contacts closed.
    """
def near_matches(name: str, known: collections.abc.Sequence[str], at_most: typing.SupportsInt | typing.SupportsIndex = 3) -> list[str]:
    """
    The known names nearest to a misspelt one, nearest first; empty where none is near.
    """
def raise_line_error(faults: collections.abc.Sequence[Fault]) -> None:
    """
    Raises LineError with these faults, worded as those that the checks find.
    """
def steady(line: PreparedLine, condition: Condition, steps_per_cycle: typing.SupportsInt | typing.SupportsIndex = 0, most_cycles: typing.SupportsInt | typing.SupportsIndex = 72) -> dict:
    """
    Steady state of one condition as plain values; signals over the last period.
    """
def sweep(lines: collections.abc.Sequence[PreparedLine], line_of_point: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], conditions: collections.abc.Sequence[Condition], threads: typing.SupportsInt | typing.SupportsIndex = 0, steps_per_cycle: typing.SupportsInt | typing.SupportsIndex = 0, report: typing.Any = None) -> dict:
    """
    Steady state of many conditions on all cores; arrays (point,) and (point, measure). `report(done)` is called about twenty times a second.
    """
__version__: str = '0.1.0'
measure_list: tuple = (('mesh_torque_ripple', 'N m', 'peak to peak torque in the loaded mesh, at its input side', True), ('mesh_torque_half_range', 'N m', 'half of the peak to peak torque in the loaded mesh, full band', True), ('mesh_torque_vibratory', 'N m', 'half range of the synthesis of orders 0.5 to 12 in the loaded mesh', False), ('mesh_torque_mean', 'N m', 'mean torque over crank angle in the loaded mesh', False), ('mesh_torque_min', 'N m', 'least torque in the loaded mesh', True), ('mesh_torque_max', 'N m', 'greatest torque in the loaded mesh', True), ('mesh_drive_share', '1', 'share of time with the loaded mesh on its drive flanks', False), ('mesh_separated_share', '1', 'share of time with the loaded mesh out of contact', False), ('mesh_coast_share', '1', 'share of time with the loaded mesh on its coast flanks', False), ('mesh_impact_power', 'W', "power dissipated in the loaded mesh's contacts", False), ('unloaded_mesh_torque_ripple', 'N m', 'peak to peak torque in the unloaded pair, the largest of all pairs', True), ('unloaded_mesh_separated_share', '1', 'share of time out of contact, the largest of all unloaded pairs', False), ('unloaded_mesh_coast_share', '1', 'share of time on the coast flanks, the largest of all unloaded pairs', False), ('unloaded_mesh_impact_power', 'W', 'power dissipated in the contacts of all unloaded pairs together', False), ('plate_twist_min', 'rad', 'least twist of the plate, from the middle of its free play', True), ('plate_twist_max', 'rad', 'greatest twist of the plate, from the middle of its free play', True), ('plate_torque_ripple', 'N m', 'peak to peak torque through the plate', True), ('plate_torque_mean', 'N m', 'mean torque over crank angle through the plate', False), ('plate_torque_min', 'N m', 'least torque through the plate', True), ('plate_torque_max', 'N m', 'greatest torque through the plate', True), ('plate_stop_share', '1', "share of time with the plate's hub on a stop", False), ('plate_friction_power', 'W', "power dissipated by the plate's dry friction", False), ('plate_heat_power', 'W', 'power dissipated in the plate by friction, damping and stops together', False), ('cyclic_irregularity', '1', 'greatest less least flywheel speed over its mean', True), ('brake_torque', 'N m', 'mean gas torque less engine friction, at the flywheel', False), ('mean_rpm', 'rpm', 'mean crank speed', False))
