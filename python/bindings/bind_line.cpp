// The description of a line, struct by struct as in line/elements.hpp and line/line.hpp.
#include <pybind11/native_enum.h>

#include "bind.hpp"
#include "calmshaft/engine/engine_tables.hpp"
#include "calmshaft/engine/firing.hpp"
#include "calmshaft/engine/fuel_defaults.hpp"
#include "calmshaft/line/check.hpp"
#include "calmshaft/line/plate_torque.hpp"
#include "fields.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

void bind_enums(py::module_& module) {
  py::native_enum<Fuel>(module, "Fuel", "enum.Enum")
      .value("diesel", Fuel::diesel)
      .value("petrol", Fuel::petrol)
      .finalize();
  py::native_enum<Gear>(module, "Gear", "enum.Enum")
      .value("ahead", Gear::ahead)
      .value("neutral", Gear::neutral)
      .value("astern", Gear::astern)
      .finalize();
  py::native_enum<LoadCase>(module, "LoadCase", "enum.Enum")
      .value("under_way", LoadCase::under_way)
      .value("tied_up", LoadCase::tied_up)
      .value("none", LoadCase::none)
      .value("torque", LoadCase::torque)
      .finalize();
  py::native_enum<Fuelling>(module, "Fuelling", "enum.Enum")
      .value("governed", Fuelling::governed)
      .value("fixed", Fuelling::fixed)
      .finalize();
}

void bind_working_cycle(py::module_& module) {
  Fields<Combustion>(module, "Combustion",
                     "Heat release and gas exchange of one cylinder; angles after firing top dead centre.")
      .field("burn_start", &Combustion::burn_start, "[rad]")
      .field("burn_duration", &Combustion::burn_duration, "[rad]")
      .field("burn_coefficient", &Combustion::burn_coefficient, "[-] a of the Wiebe function")
      .field("burn_exponent", &Combustion::burn_exponent, "[-] m of the Wiebe function")
      .field("polytropic_exponent", &Combustion::polytropic_exponent, "[-] compression and expansion alike")
      .field("inlet_pressure", &Combustion::inlet_pressure, "[Pa] absolute")
      .field("exhaust_pressure", &Combustion::exhaust_pressure, "[Pa] absolute")
      .field("inlet_closes", &Combustion::inlet_closes, "[rad] negative: before top dead centre")
      .field("exhaust_opens", &Combustion::exhaust_opens, "[rad]")
      .finish();
  Fields<EngineFriction>(module, "EngineFriction", "Mean effective friction pressure over speed.")
      .field("constant", &EngineFriction::constant, "[Pa]")
      .field("per_speed", &EngineFriction::per_speed, "[Pa s/rad] of crank speed")
      .field("per_piston_speed_squared", &EngineFriction::per_piston_speed_squared, "[Pa s^2/m^2]")
      .finish();
}

void bind_engine(py::module_& module) {
  Fields<Engine>(module, "Engine", "Crank, pistons, rods and rating.")
      .field("strokes", &Engine::strokes, "2 or 4")
      .field("fuel", &Engine::fuel, "Fuel")
      .field("firing_angles", &Engine::firing_angles, "[rad] firing top dead centre by cylinder number")
      .field("bore", &Engine::bore, "[m]")
      .field("stroke", &Engine::stroke, "[m]")
      .field("rod_length", &Engine::rod_length, "[m] between bore centres")
      .field("compression_ratio", &Engine::compression_ratio, "[-]")
      .field("piston_mass", &Engine::piston_mass, "[kg] with pin and rings")
      .field("rod_mass", &Engine::rod_mass, "[kg]")
      .field("rod_centre_from_big_end", &Engine::rod_centre_from_big_end, "[m] centre of mass")
      .field("rod_inertia", &Engine::rod_inertia, "[kg m^2] about its centre of mass")
      .field("crank_inertia", &Engine::crank_inertia, "[kg m^2] without rods and flywheel")
      .field("rated_torque", &Engine::rated_torque, "[N m] brake")
      .field("rated_speed", &Engine::rated_speed, "[rad/s]")
      .field("combustion", &Engine::combustion, "Combustion")
      .field("friction", &Engine::friction, "EngineFriction")
      .finish();
}

void bind_plate(py::module_& module) {
  Fields<PlateStage>(module, "PlateStage", "One stage of the plate's springs.")
      .field("stiffness", &PlateStage::stiffness, "[N m/rad]")
      .field("until", &PlateStage::until, "[rad] twist from the middle where the next stage begins")
      .finish();
  Fields<PlateSide>(module, "PlateSide", "Springs and stop of one direction.")
      .field("stages", &PlateSide::stages, "PlateStage, from the middle outwards")
      .field("stop_angle", &PlateSide::stop_angle, "[rad] from the middle of the free play")
      .finish();
  Fields<Plate>(module, "Plate", "The spring damper plate between flywheel and gearbox input.")
      .field("rigid", &Plate::rigid, "a solid drive")
      .field("hub_inertia", &Plate::hub_inertia, "[kg m^2] turns with the gearbox input")
      .field("rated_torque", &Plate::rated_torque, "[N m] as its maker states it, or None")
      .field("free_play", &Plate::free_play, "[rad] whole width")
      .field("hysteresis_full_width", &Plate::hysteresis_full_width, "[N m] twice the friction torque")
      .field("presliding_angle", &Plate::presliding_angle, "[rad] from a reversal to full sliding from rest")
      .field("viscous_damping", &Plate::viscous_damping, "[N m s/rad]")
      .field("stop_stiffness", &Plate::stop_stiffness, "[N m/rad]")
      .field("stop_restitution", &Plate::stop_restitution, "[-]")
      .field("drive", &Plate::drive, "PlateSide")
      .field("coast", &Plate::coast, "PlateSide")
      .finish();
}

void bind_gearbox(py::module_& module) {
  Fields<ToothContact>(module, "ToothContact", "Teeth of one gear pair, at the gearbox input shaft.")
      .field("backlash", &ToothContact::backlash, "[rad] whole width")
      .field("stiffness", &ToothContact::stiffness, "[N m/rad]")
      .field("restitution", &ToothContact::restitution, "[-] at restitution_speed")
      .field("restitution_speed", &ToothContact::restitution_speed, "[rad/s]")
      .finish();
  Fields<LoadedPair>(module, "LoadedPair", "The gear pair that drives the shaft.")
      .field("ratio", &LoadedPair::ratio, "[-] input turns per output turn, positive")
      .field("output_inertia", &LoadedPair::output_inertia, "[kg m^2] at the output shaft")
      .field("contact", &LoadedPair::contact, "ToothContact")
      .finish();
  Fields<UnloadedPair>(module, "UnloadedPair", "A gear pair that turns along without load.")
      .field("name", &UnloadedPair::name, "for people")
      .field("turns_in_ahead", &UnloadedPair::turns_in_ahead, "bool")
      .field("turns_in_astern", &UnloadedPair::turns_in_astern, "bool")
      .field("turns_in_neutral", &UnloadedPair::turns_in_neutral, "bool")
      .field("inertia", &UnloadedPair::inertia, "[kg m^2] at the input shaft")
      .field("drag", &UnloadedPair::drag, "[N m] at the gear pair")
      .field("contact", &UnloadedPair::contact, "ToothContact")
      .finish();
  Fields<Gearbox>(module, "Gearbox", "Gears between plate and shaft.")
      .field("rated_torque", &Gearbox::rated_torque, "[N m] at the input")
      .field("input_inertia", &Gearbox::input_inertia, "[kg m^2] all that always turns with the input")
      .field("input_drag", &Gearbox::input_drag, "[N m] pump and seals")
      .field("ahead", &Gearbox::ahead, "LoadedPair or None")
      .field("astern", &Gearbox::astern, "LoadedPair or None")
      .field("unloaded", &Gearbox::unloaded, "UnloadedPair")
      .finish();
}

void bind_shaft_and_propeller(py::module_& module) {
  Fields<Shaft>(module, "Shaft", "The propeller shaft.")
      .field("stiffness", &Shaft::stiffness, "[N m/rad] whole length")
      .field("inertia", &Shaft::inertia, "[kg m^2] whole length")
      .field("damping_ratio", &Shaft::damping_ratio, "[-] of critical")
      .field("divisions", &Shaft::divisions, "springs in series")
      .finish();
  Fields<Propeller>(module, "Propeller", "Inertia, water and torque law.")
      .field("inertia", &Propeller::inertia, "[kg m^2] dry")
      .field("water_inertia", &Propeller::water_inertia, "[kg m^2] entrained water")
      .field("absorbs_torque", &Propeller::absorbs_torque, "[N m] at the gearbox input, under way ahead")
      .field("absorbs_speed", &Propeller::absorbs_speed, "[rad/s] crank speed of that torque")
      .field("tied_up_factor", &Propeller::tied_up_factor, "[-] torque tied up over torque under way")
      .field("extra_damping", &Propeller::extra_damping, "[-] times mean torque over mean speed")
      .finish();
}

void bind_table(py::module_& module) {
  py::native_enum<PartStation>(module, "PartStation", "enum.Enum")
      .value("none", PartStation::none)
      .value("crank", PartStation::crank)
      .value("gearbox_input", PartStation::gearbox_input)
      .value("gearbox_output", PartStation::gearbox_output)
      .value("propeller", PartStation::propeller)
      .finalize();
  Fields<TableMass>(module, "TableMass", "One mass of a mass-elastic table.")
      .field("name", &TableMass::name, "for people")
      .field("part", &TableMass::part, "PartStation that this row is; its inertia then stands in the part")
      .field("inertia", &TableMass::inertia, "[kg m^2] on its own shaft")
      .field("speed_ratio", &TableMass::speed_ratio, "[-] own speed over the crank's, going ahead")
      .finish();
  Fields<TableConnection>(module, "TableConnection", "One spring or rigid gear pair of a mass-elastic table.")
      .field("from_row", &TableConnection::from, "row of the masses")
      .field("to_row", &TableConnection::to, "row of the masses")
      .field("stiffness", &TableConnection::stiffness, "[N m/rad]; infinite: a rigid gear pair or flange")
      .field("damping", &TableConnection::damping, "[N m s/rad]")
      .finish();
  Fields<MassElasticTable>(module, "MassElasticTable", "Masses and connections beside or in place of parts.")
      .field("masses", &MassElasticTable::masses, "tuple of TableMass")
      .field("connections", &MassElasticTable::connections, "tuple of TableConnection")
      .finish();
}

void bind_whole(py::module_& module) {
  Fields<Line>(module, "Line", "A line from engine to propeller. SI and radians.")
      .field("title", &Line::title, "for people")
      .field("engine", &Line::engine, "Engine")
      .field("flywheel_inertia", &Line::flywheel_inertia, "[kg m^2]")
      .field("plate", &Line::plate, "Plate")
      .field("gearbox", &Line::gearbox, "Gearbox")
      .field("shaft", &Line::shaft, "Shaft or None")
      .field("propeller", &Line::propeller, "Propeller or None")
      .field("table", &Line::table, "MassElasticTable, empty where the parts say all")
      .finish();
  Fields<Condition>(module, "Condition", "What the line is asked about.")
      .field("speed", &Condition::speed, "[rad/s] mean crank speed")
      .field("gear", &Condition::gear, "Gear")
      .field("strengths", &Condition::strengths, "[-] 0..1 by cylinder number; empty: all healthy")
      .field("load", &Condition::load, "LoadCase")
      .field("load_torque", &Condition::load_torque, "[N m] at the gearbox input, for LoadCase.torque")
      .field("fuelling", &Condition::fuelling, "Fuelling")
      .finish();
}

void bind_functions(py::module_& module) {
  module.def("check", py::overload_cast<const Line&>(&check), py::arg("line"),
             "Every Fault of a line, warnings included.");
  module.def("check", py::overload_cast<const Line&, const Condition&>(&check), py::arg("line"),
             py::arg("condition"), "What is wrong with asking this condition of the line.");
  module.def("firing_angles", &firing_angles, py::arg("order"), py::arg("strokes"),
             "Firing angles [rad] by cylinder number, evenly spaced; LineError where a number is missing or "
             "double.");
  module.def("mean_moving_inertia", &mean_moving_inertia, py::arg("engine"),
             "Inertia [kg m^2] of all pistons and rods at the crank, averaged over a turn.");
  module.def("default_combustion", &default_combustion, py::arg("fuel"), py::arg("strokes"),
             "Combustion to assume where nothing is known.");
  module.def("default_friction", &default_friction, py::arg("fuel"), py::arg("strokes"), py::arg("stroke"),
             "EngineFriction to assume where nothing is known; stroke in [m].");
  module.def("elastic_torque", &elastic_torque, py::arg("side"), py::arg("free_play"), py::arg("twist"),
             "Torque [N m] of a plate side's springs at a twist [rad] from the middle; free_play [rad] whole "
             "width.");
}

}  // namespace

void bind_line(py::module_& module) {
  bind_enums(module);
  bind_working_cycle(module);
  bind_engine(module);
  bind_plate(module);
  bind_gearbox(module);
  bind_shaft_and_propeller(module);
  bind_table(module);
  bind_whole(module);
  bind_functions(module);
}
