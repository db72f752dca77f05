//! Rows of the two machines.

use super::*;

fn volts(high: f64) -> Takes {
    of(Kind::Voltage, "V", 0.5, high)
}
fn amps(low: f64) -> Takes {
    of(Kind::Current, "A", low, 100.0)
}
fn rpm(high: f64) -> Takes {
    of(Kind::Rotation, "rpm", 1.0, high)
}

/// `[spinner]`.
pub fn spinner() -> Vec<Key> {
    let mut rows = vec![
        row(
            "spinner.drive",
            choice(&[
                word("flyer", "the belt turns the flyer, the bobbin is braked"),
                word("bobbin", "the belt turns the bobbin, the flyer is braked"),
                word("both", "one band turns both"),
            ]),
            "What the belt turns.",
            "flyer",
            "\"flyer\"",
        ),
        row(
            "spinner.pace",
            of(Kind::Speed, "m/min", 0.02, 60.0),
            "Finished yarn a minute, as a mean over drawing and winding on.",
            "2 m/min (1.2..3)",
            "\"2.0 m/min\"",
        ),
        row("spinner.stroke", cm(5.0, 300.0), "One draw and wind-on.", "70 cm", "\"70 cm\""),
        row(
            "spinner.pull",
            of(Kind::Force, "cN", 1.0, 500.0),
            "How hard the yarn is wished to pull at the hand.",
            "decided: well under what breaks the yarn",
            "\"22 cN (15..35)\"",
        ),
    ];
    rows.extend(motor());
    rows.extend(belt());
    rows.extend(package());
    rows.push(row(
        "spinner.bought[].mark",
        Takes::Text { longest: 8 },
        "Its mark on the spinner's drawing or wiring.",
        "needed",
        "\"13\"",
    ));
    rows.push(price("spinner.bought[].price", "needed"));
    rows
}

/// What one of a thing costs.
fn price(path: &'static str, absent: &'static str) -> Key {
    row(path, of(Kind::Money, "", 0.0, 1e6).sure(), "Price of one, in the plan's `money`.", absent, "4.50")
}

fn motor() -> Vec<Key> {
    let needed = "needed for the spinner's figures";
    vec![
        row("spinner.motor.rated", volts(60.0).sure(), "Voltage on the plate.", needed, "\"18 V\""),
        row("spinner.motor.no_load", rpm(60_000.0), "Speed running free at that voltage.", needed, "\"7200 rpm\""),
        row(
            "spinner.motor.no_load_current",
            amps(0.001),
            "Current running free at that voltage.",
            needed,
            "\"0.12 A\"",
        ),
        row(
            "spinner.motor.resistance",
            of(Kind::Resistance, "ohm", 0.01, 10_000.0),
            "Winding, measured at rest and cold over several positions.",
            "from the stall current",
            "\"5.0 ohm\"",
        ),
        row(
            "spinner.motor.stall_current",
            amps(0.01),
            "Current with the shaft held, from the plate.",
            "from the resistance",
            "\"3.6 A\"",
        ),
        row(
            "spinner.motor.continuous_current",
            amps(0.01),
            "Current it can carry all day, from the plate.",
            "20 % (15..25) of the stall current",
            "\"0.6 A\"",
        ),
        row("spinner.supply.voltage", volts(60.0).sure(), "Voltage on the plate.", needed, "\"16 V\""),
        row("spinner.supply.current", amps(0.01).sure(), "Greatest current on the plate.", needed, "\"3.5 A\""),
        row(
            "spinner.driver.kind",
            choice(&[
                word("transistor", "one-way speed control, a relay turns the direction"),
                word("bridge", "a board that sets speed and direction"),
            ]),
            "The speed control.",
            "transistor",
            "\"bridge\"",
        ),
        row(
            "spinner.driver.limit",
            amps(0.05).sure(),
            "Greatest current it may pass.",
            "not checked; the list of parts says what it must stand",
            "\"5 A\"",
        ),
        row(
            "spinner.driver.drop",
            of(Kind::Voltage, "V", 0.0, 10.0),
            "Voltage lost in it.",
            "by its kind",
            "\"0.5 V\"",
        ),
        row(
            "spinner.drag",
            of(Kind::Torque, "mN·m", 0.0, 500.0),
            "Turning moment of the bearings at the spindle.",
            "4 mN·m (2..8)",
            "\"4 mN·m (2..8)\"",
        ),
    ]
}

fn belt() -> Vec<Key> {
    let pulley = || mm(2.0, 600.0);
    vec![
        row(
            "spinner.pulleys.motor",
            pulley().auto(),
            "Pitch diameter on the motor.",
            "decided from those on hand",
            "\"18 mm\"",
        ),
        row(
            "spinner.pulleys.spindle",
            pulley().auto(),
            "Pitch diameter on the spindle.",
            "decided from those on hand",
            "\"63 mm\"",
        ),
        row(
            "spinner.pulleys.bobbin",
            pulley(),
            "Pitch diameter on the bobbin, where one band drives both.",
            "not driven",
            "\"50 mm\"",
        ),
        row("spinner.pulleys.centres", mm(10.0, 3000.0), "From axis to axis.", "170 mm", "\"170 mm\""),
        row("spinner.pulleys.belt", mm(0.5, 30.0), "Thickness of the belt or cord.", "2 mm", "\"2 mm\""),
        row(
            "spinner.pulleys.material",
            choice(&[
                word("urethane", "round plastic belt, welded or joined"),
                word("cord", "cotton or polyester cord, spliced or knotted"),
                word("rubber", "O-ring or rubber belt"),
            ]),
            "What the belt is.",
            "urethane",
            "\"cord\"",
        ),
        row(
            "spinner.pulleys.groove_bottoms",
            Takes::Flag,
            "The diameters were measured at the bottom of the grooves.",
            "false: they are pitch diameters",
            "true",
        ),
        row("spinner.pulleys.slip", share(0.0, 30.0), "Speed lost by slip.", "2 %", "\"2 %\""),
        row(
            "spinner.pulleys.tension",
            of(Kind::Force, "N", 0.1, 500.0),
            "Tension of the belt at rest.",
            "8 N (5..12)",
            "\"12 N\"",
        ),
        row(
            "spinner.pulleys.on_hand",
            Takes::Quantities { span: span(Kind::Length, "mm", 2.0, 600.0), most: 60 },
            "Pitch diameters of the pulleys to choose from.",
            "none",
            "[\"12 mm\", \"18 mm\", \"50 mm\", \"63 mm\"]",
        ),
    ]
}

fn package() -> Vec<Key> {
    vec![
        row("spinner.bobbin.core", mm(3.0, 300.0), "Diameter when empty.", "22 mm", "\"22 mm\""),
        row("spinner.bobbin.flange", mm(5.0, 500.0), "Diameter when full.", "68 mm", "\"68 mm\""),
        row("spinner.bobbin.width", mm(5.0, 500.0), "Between the flanges.", "80 mm", "\"80 mm\""),
        row("spinner.bobbin.tare", of(Kind::Mass, "g", 0.5, 2000.0), "Mass when empty.", "weigh it", "\"38 g\""),
        row(
            "spinner.bobbin.density",
            of(Kind::Density, "g/cm3", 0.05, 1.2),
            "Density of the yarn wound on it.",
            "0.35 g/cm3 (0.25..0.45)",
            "\"0.35 g/cm3 (0.25..0.45)\"",
        ),
        row(
            "spinner.flyer.safe_speed",
            rpm(10_000.0).sure(),
            "Speed up to which your flyer has been tried behind a guard.",
            "2000 rpm, and the sheet says to try it out",
            "\"2000 rpm\"",
        ),
        row(
            "spinner.flyer.reach",
            mm(5.0, 500.0),
            "From the axis to the outside of an arm.",
            "from the bobbin's flange",
            "\"45 mm\"",
        ),
        row(
            "spinner.flyer.mass",
            of(Kind::Mass, "g", 1.0, 5000.0),
            "Mass of the flyer.",
            "from its drawing",
            "\"120 g\"",
        ),
        row(
            "spinner.brake.kind",
            choice(&[
                word("cord", "a cord over a groove, stretched by a spring"),
                word("felt", "a felt pad pressed on"),
                word("magnet", "magnets and a metal disc"),
            ]),
            "What brakes.",
            "cord",
            "\"cord\"",
        ),
        row("spinner.brake.groove", mm(3.0, 300.0), "Diameter the cord runs on.", "the bobbin's flange", "\"60 mm\""),
        row(
            "spinner.brake.wrap",
            of(Kind::Angle, "deg", 10.0, 1500.0),
            "How far round the cord lies.",
            "180 deg",
            "\"180 deg\"",
        ),
        row(
            "spinner.brake.friction",
            of(Kind::Number, "", 0.02, 1.5),
            "Friction of cord on groove.",
            "0.3 (0.2..0.4)",
            "\"0.3 (0.2..0.4)\"",
        ),
        row(
            "spinner.brake.spring",
            choice(&[
                word("oncoming", "at the end the groove runs towards: gentle"),
                word("leaving", "at the end the groove runs away from: grabs"),
                word("both", "at both ends"),
            ]),
            "Which end of the cord the spring holds when spinning Z.",
            "oncoming",
            "\"both\"",
        ),
        row(
            "spinner.brake.rate",
            of(Kind::LineLoad, "N/mm", 0.001, 50.0),
            "Stiffness of the spring.",
            "the knob is marked in newtons",
            "\"0.08 N/mm\"",
        ),
    ]
}

const TIMBERS: &[Word] = &[
    word("beech", "hard and even"),
    word("ash", "hard and springy"),
    word("yellow birch", "hard and stiff"),
    word("paper birch", "medium"),
    word("sugar maple", "very hard"),
    word("red maple", "medium hard"),
    word("basswood", "soft and light"),
    word("red oak", "hard, open grain"),
    word("white oak", "hard and heavy"),
    word("black cherry", "medium"),
    word("black walnut", "medium"),
    word("yellow poplar", "medium soft"),
    word("ponderosa pine", "soft"),
    word("red pine", "soft"),
    word("sugar pine", "soft and light"),
    word("white pine", "soft and light"),
    word("shortleaf pine", "harder pine"),
    word("sitka spruce", "light and stiff"),
    word("steel tube", "for beams"),
];

/// `[loom]`.
pub fn loom() -> Vec<Key> {
    let mut rows = vec![
        row(
            "loom.weaving_width",
            cm(3.0, 300.0).sure(),
            "Greatest width in the heddle.",
            "needed for the loom's figures",
            "\"72 cm\"",
        ),
        row("loom.timber", choice(TIMBERS), "What frame and beams are made of.", "beech", "\"beech\""),
    ];
    rows.extend(heddle());
    rows.extend(distances());
    rows.extend(structure());
    rows.extend(stock());
    rows
}

fn heddle() -> Vec<Key> {
    let sett = || of(Kind::PerLength, "/cm", 0.5, 60.0);
    vec![
        row(
            "loom.heddle.style",
            choice(&[
                word("strips", "strips of wood or card in two grooved bars, drilled"),
                word("sheet", "cut from a sheet by laser or router"),
                word("printed", "segments from a 3-D printer that join"),
                word("string", "string loops on bars, with a reed of its own"),
            ]),
            "How it is made.",
            "decided from the sett",
            "\"sheet\"",
        ),
        row(
            "loom.heddle.sett",
            sett().auto(),
            "Ends per length it has, one heddle alone.",
            "from blade and gap, or decided",
            "\"10.4 /cm\"",
        ),
        row(
            "loom.heddle.blade",
            mm(0.2, 30.0).auto(),
            "Width of a blade seen from the front; it holds the eye.",
            "decided by style and sett",
            "\"1.9 mm\"",
        ),
        row(
            "loom.heddle.gap",
            mm(0.1, 30.0).auto(),
            "Width of a slot.",
            "decided from the sett and the yarn",
            "\"1.2 mm\"",
        ),
        row(
            "loom.heddle.eye",
            mm(0.1, 15.0).auto(),
            "Diameter or width of an eye.",
            "decided from the yarn",
            "\"0.8 mm\"",
        ),
        row("loom.heddle.heddles", whole(1, 4), "Heddles used together.", "decided from the sett", "2"),
        row("loom.heddle.slot_height", mm(15.0, 300.0), "Clear height of a slot.", "by the lift", "\"78 mm\""),
        row("loom.heddle.thickness", mm(0.3, 30.0), "Thickness of the sheet, strip or print.", "by style", "\"3 mm\""),
        row(
            "loom.heddle.cutter",
            mm(0.01, 5.0).sure(),
            "Width the laser or router takes: slots and eyes of a sheet are drawn narrower by it, so that they come out true.",
            "none: drawn true, the cutter's own program allows for it",
            "\"0.2 mm\"",
        ),
        row(
            "loom.heddle.segment",
            mm(20.0, 2000.0).sure(),
            "Widest piece your cutter or printer makes: a wider heddle is parted in the middle of a slot.",
            "a sheet in one piece; prints of 40 pitches",
            "\"200 mm\"",
        ),
        row("loom.heddle.shafts", whole(2, 40), "Shafts of string heddles.", "as the weave needs", "4"),
        row("loom.reed.dents", sett(), "Dents per length.", "decided from the sett", "\"6 /cm\""),
        row("loom.reed.ends_per_dent", whole(1, 8), "Ends in each dent.", "2", "2"),
    ]
}

fn distances() -> Vec<Key> {
    vec![
        row("loom.depth.fell_to_heddle", cm(2.0, 200.0), "From the woven edge to the heddle.", "15 cm", "\"15 cm\""),
        row("loom.depth.heddle_to_back", cm(2.0, 500.0), "From the heddle to the back bar.", "42 cm", "\"42 cm\""),
        row("loom.shed.lift", mm(2.0, 150.0), "How far the heddle lifts or sinks.", "25 mm", "\"25 mm\""),
        row("loom.shuttle.height", mm(1.0, 80.0), "Height.", "12 mm", "\"12 mm\""),
        row("loom.shuttle.width", mm(2.0, 120.0), "From its front to its back edge.", "28 mm", "\"28 mm\""),
        row("loom.shuttle.length", cm(5.0, 150.0), "Length.", "half the weaving width, 18 to 45 cm", "\"30 cm\""),
        row("loom.waste.front", cm(0.0, 200.0), "Tied on in front.", "18 cm", "\"18 cm\""),
        row("loom.waste.back", cm(0.0, 300.0), "Behind the heddle, that cannot be woven.", "35 cm", "\"35 cm\""),
    ]
}

fn structure() -> Vec<Key> {
    vec![
        row(
            "loom.beam.section",
            choice(&[word("round", "a rod"), word("square", "a squared bar"), word("tube", "a round tube")]),
            "Shape of the beam.",
            "round",
            "\"round\"",
        ),
        row(
            "loom.beam.diameter",
            mm(6.0, 300.0),
            "Diameter, or side of a square.",
            "decided: stiff enough",
            "\"45 mm\"",
        ),
        row("loom.beam.wall", mm(0.3, 60.0), "Wall of a tube.", "needed for a tube", "\"2 mm\""),
        row("loom.beam.span", cm(5.0, 400.0), "Between its bearings.", "weaving width and 8 cm", "\"80 cm\""),
        row(
            "loom.beam.material",
            choice(TIMBERS),
            "What the beams are made of.",
            "the loom's timber",
            "\"steel tube\"",
        ),
        row("loom.ratchet.teeth", whole(4, 400), "Teeth.", "decided: a step about the warp's own stretch", "36"),
        row("loom.ratchet.pawls", whole(1, 6), "Pawls, set between each other's teeth.", "1", "2"),
        row(
            "loom.ratchet.diameter",
            mm(15.0, 400.0),
            "Over the teeth.",
            "by the teeth and what they hold",
            "\"90 mm\"",
        ),
        row(
            "loom.frame.height",
            cm(5.0, 200.0),
            "Top of the warp above the floor or table.",
            "by the weaver's reach",
            "\"72 cm\"",
        ),
        row(
            "loom.frame.brace",
            choice(&[
                word("none", "corner joints only"),
                word("diagonal", "a slanting brace"),
                word("shelf", "a board that stiffens the side"),
                word("clamp", "clamped to a table"),
            ]),
            "What keeps it square.",
            "diagonal",
            "\"diagonal\"",
        ),
    ]
}

fn stock() -> Vec<Key> {
    vec![
        row("loom.kerf", mm(0.0, 10.0).sure(), "Width of a saw cut.", "3 mm", "\"3 mm\""),
        row("loom.stock[].name", Takes::Text { longest: 40 }, "What the shop calls it.", "its size", "\"1x4\""),
        row(
            "loom.stock[].section",
            choice(&[
                word("board", "width and thickness"),
                word("dowel", "diameter as width"),
                word("tube", "diameter as width, wall as thickness"),
            ]),
            "Its shape.",
            "board",
            "\"dowel\"",
        ),
        row("loom.stock[].width", mm(3.0, 1000.0).sure(), "True width or diameter.", "from its name", "\"89 mm\""),
        row(
            "loom.stock[].thickness",
            mm(0.3, 200.0).sure(),
            "True thickness, or wall of a tube.",
            "from its name",
            "\"19 mm\"",
        ),
        row("loom.stock[].length", cm(10.0, 1000.0).sure(), "Length of one.", "needed", "\"244 cm\""),
        row("loom.stock[].how_many", whole(1, 1000), "How many are there.", "as many as needed", "3"),
        price("loom.stock[].price", "left out of the sum"),
        row("loom.bought[].mark", Takes::Text { longest: 8 }, "Its mark in the loom's parts list.", "needed", "\"C4\""),
        price("loom.bought[].price", "needed"),
    ]
}
