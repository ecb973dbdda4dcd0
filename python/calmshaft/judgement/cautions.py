"""What goes with every judgement: one line for the command line, all of it for the report."""

CAUTION = (
    "A study aid, not an approval: the makers, the class society and licensed practice decide. "
    "Never open guards or change speed limits on its word alone. All cautions: `calmshaft cautions`."
)

CAUTIONS: dict[str, str] = {
    "What this is": "A study aid. It approves nothing. The makers of engine, gearbox and plate, the class society, "
    "local codes and licensed practice decide. A vessel under class or the high-speed code, or one that carries "
    "passengers or earns money, needs the calculation of a qualified person and where the rules ask for it the "
    "society's approval and a measurement. A change of damper, propeller, ratio or engine may end an approval or a "
    "warranty; warranties ask for the maker's own parts.",
    "What it rests on": "The results are no better than the inputs. Estimated values are marked; read their ranges. "
    "Where teeth part, peak torques depend on contact stiffness and restitution that nobody knows well: go by whether "
    "they part and for how long. Crankshaft stress and the engine's front end are not judged.",
    "Rotating parts kill": "No hands, clothes or hoses near flywheel and shaft. Before reaching in: engine stopped, "
    "battery isolated and tagged, key out, fuel stop held, shaft locked, since current, sail or tow can turn it. Bar "
    "by hand tool only; compression kicks back.",
    "Bell housing and flywheel": "Never run with the housing open, a cracked flywheel, missing springs or wrong bolts. "
    "Do not lighten a cast-iron flywheel, never overspeed, and stand out of the plane of rotation in any test: a "
    "flywheel that bursts goes through its housing. Springs that came loose can jam behind the flywheel: do not crank "
    "an engine that is locked.",
    "Misfiring": "Reduce load, keep the compression, watch temperatures, find the cause. Unburnt fuel in the exhaust "
    "and a hot rubber coupling can catch fire.",
    "Fitting a plate": "Hold the engine up before its rear mounts come off: it crushes. The maker's grade, torque and "
    "new locking hardware on clean threads; no other grade in its place. Look at pilot fit, depth of the spline, room "
    "between hub and flywheel bolts, and which side faces the flywheel. Align the shaft afterwards; 0.05 to 0.08 mm "
    "across the flange is customary (common practice, no source).",
    "Heat, oil, batteries": "Hot work needs a permit, a gas-free bilge, a fire watch and extinguishers. Air for the "
    "batteries. Oil burns skin; oil and coolant do not belong in the water.",
    "Who does it": "Work on the line is for a licensed or competent technician. Never remove a guard or raise an idle "
    "or speed limit on this word alone.",
}  # fmt: skip
