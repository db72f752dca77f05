//! The parts of a plan, in the order of the material: the figures of each, the keys that are edited there, its drawings. One table; the
//! screens and the book read it.

use crate::chain::keys as id;

/// A part of the plan: a screen, a chapter.
pub struct Part {
    /// Its word in the address.
    pub name: &'static str,
    pub title: &'static str,
    /// One sentence on what is decided here.
    pub says: &'static str,
    pub slots: &'static [u16],
    /// Beginnings of the plan keys that are edited here.
    pub keys: &'static [&'static str],
    pub drawings: &'static [&'static str],
}

macro_rules! parts {
    ($($name:literal $title:literal $says:literal [$($key:ident),*] [$($path:literal),*] [$($drawing:literal),*];)*) => {
        /// All screens, in the order of the material.
        pub static ALL: &[Part] = &[$(Part {
            name: $name, title: $title, says: $says, slots: &[$(id::$key.slot),*], keys: &[$($path),*], drawings: &[$($drawing),*],
        }),*];
    };
}
parts! {
    "fibre" "Fibre" "How much to grow, buy or shear, through every loss."
        [RAW_FIBRE, CLEAN_FIBRE, SPUN_FIBRE, YARN_MASS, YARN_POSSIBLE, ON_HAND_SHARE, CLEANING_KEEPS, PREPARING_KEEPS, SPINNING_KEEPS, PLANTS, SEEDS, PLOT, FLEECES, HEAT_UNITS, HEAT_NEEDED, FIRST_OPEN_BOLL, FIBRE_FINENESS, FIBRE_LENGTH]
        ["fibre.", "season."] ["flow"];
    "yarn" "Yarn" "How fine, how hard twisted, how strong."
        [WARP_COUNT, WARP_GRIST, WARP_DIAMETER, WARP_MULTIPLIER, WARP_TWIST, WARP_PLY_TWIST, WARP_ANGLE, WARP_CONTRACTION, WARP_FIBRES, WARP_LIMIT_CV, WARP_BREAK, STRENGTH_CV, WEFT_COUNT, WEFT_TWIST, WEFT_DIAMETER, YARN_LENGTH]
        ["yarn."] [];
    "spinner" "Spinner" "Speeds, pulleys, motor and brake for this yarn."
        [SPINDLE_SPEED, RATIO, MOTOR_SPEED, DUTY, DUTY_LIMIT, CURRENT, HEAT, STALL_CURRENT, SUPPLY_STALL, TOP_SPEED, RUNAWAY, HAND_PULL, PULL_AT_BOBBIN, BRAKE_EMPTY, BRAKE_FULL, START_TORQUE, START_NEEDS, BELT_LENGTH, BELT_WRAP, BOBBIN_MASS, BOBBIN_LENGTH, BOBBINS, BEAT]
        ["spinner."] ["spinner", "knob", "brake", "wiring"];
    "cloth" "Cloth" "How close, how heavy, how open, and what it loses off the loom and in the wash."
        [SETT_IN_REED, FIRMNESS, GREATEST_SETT, BRIERLEY_SETT, PICKS_ON_LOOM, SETT_OFF_LOOM, PICKS_OFF_LOOM, SETT_FINISHED, PICKS_FINISHED, STRIPES_ACROSS, STRIPES_ALONG, CRIMP_WARP, CRIMP_WEFT, TAKE_UP, DRAW_IN, SHRINK_WIDTH, SHRINK_LENGTH, CLOTH_MASS, COVER_FACTOR, OPEN_AREA, THICKNESS]
        ["cloth."] ["cloth", "section", "draft"];
    "loom" "Loom" "Heddle, beams, shed and ratchet for this cloth."
        [HEDDLES, HEDDLE_PITCH, GAP, BLADE, EYE, WALL, THREADS_PER_SLOT, EYES, SLOTS, WARP_TENSION, PEAK_TENSION, BEAM_DEFLECTION, BOW_ALLOWED, BEAM_STRESS, SHED_OPENING, SHED_OPENING_LATE, SHED_STRAIN, LIFT_FORCE, RATCHET_STEP, STEP_STRAIN, ROLL_DIAMETER]
        ["loom."] ["loom", "shed", "heddle", "parts", "cuts"];
    "warp" "Warp" "What to wind, thread and weave."
        [WIDTH_IN_REED, ENDS, WARP_LENGTH, WARP_UNWOVEN, WARP_YARN, WARP_MASS, PICKS, ON_LOOM_LENGTH, PICK_LENGTH, WEFT_YARN, WEFT_MASS, TENSION, PEAK_LOAD, PEAK_SHARE, EXPECTED_BREAKS]
        ["warp."] ["warping", "threading"];
    "garment" "Garment" "Pieces from a body, laid on narrow cloth."
        [HOW_MANY, GARMENT_CHEST, CHEST_EASE, NECK_OPENING, HEAD_NEEDS, SLIT, LAY_WIDTH, LAY_LENGTH, MATCH_EXTRA, LAY_USED, WIDEST_PIECE, GARMENT_AREA, GARMENT_MASS, SEAM_LENGTH, THREAD]
        ["garment."] ["lay", "widths", "pattern", "sewing"];
    "print" "Print" "What this cloth holds, and the screen for it."
        [SMALLEST_LINE, SMALLEST_GAP, SMALLEST_DOT, MESH, MESH_OPEN, FILM_WIDTH, INK, COVER_FACTOR, OPEN_AREA]
        ["print."] ["preview", "film", "placement", "teststrip"];
    "hours" "Hours" "Every step, at your own pace once it is logged."
        [GINNING, SCOURING, SCUTCHING, CARDING, COMBING, HACKLING, SAMPLING, SPINNING, PLYING, SKEINING, WINDING, THREADING, WEAVING, FINISHING, SEWING, PRINTING, TOTAL_HOURS, WEEKS]
        ["pace.", "hours."] ["hours"];
}

/// The screen of that name.
pub fn find(name: &str) -> Option<&'static Part> {
    ALL.iter().find(|part| part.name == name)
}
