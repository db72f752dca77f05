//! What a mend may turn: an input of the chain, the range and step it may take, and which way it may go. A mend never raises a voltage, a
//! fuse, a current limit, a safe speed or a tension; the list of ids it must leave alone, or only lower, is here and held by a test.

use crate::chain::keys as id;

/// Which way a knob may be turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    Either,
    /// More of it is dangerous.
    DownOnly,
}

/// An input that a mend may turn. Numbers are in the unit the id is printed in.
#[derive(Debug)]
pub struct Knob {
    pub slot: u16,
    /// Its key in the plan.
    pub path: &'static str,
    pub from: f64,
    pub to: f64,
    pub step: f64,
    pub turn: Turn,
}

macro_rules! knobs {
    ($($name:ident = $key:ident $path:literal $from:literal..$to:literal by $step:literal $turn:ident;)*) => {
        $(pub static $name: Knob = Knob {
            slot: id::$key.slot, path: $path, from: $from, to: $to, step: $step, turn: Turn::$turn,
        };)*
        /// All knobs.
        pub static ALL: &[&Knob] = &[$(&$name),*];
    };
}
knobs! {
    WARP_COUNT = WARP_COUNT "yarn.warp.count" 4.0..2000.0 by 0.5 Either;
    WARP_TWIST = WARP_MULTIPLIER "yarn.warp.twist" 1.0..7.0 by 0.05 Either;
    WEFT_TWIST = WEFT_MULTIPLIER "yarn.weft.twist" 1.0..7.0 by 0.05 Either;
    FIRMNESS = FIRMNESS "cloth.firmness" 20.0..95.0 by 1.0 Either;
    MASS = MASS_WISHED "cloth.mass" 40.0..800.0 by 5.0 Either;
    SETT = SETT_IN_REED "cloth.sett" 1.0..40.0 by 0.1 Either;
    PICKS = PICKS_OFF_LOOM "cloth.picks" 1.0..60.0 by 0.1 Either;
    WIDTH = LAY_WIDTH "cloth.width" 5.0..250.0 by 0.5 Either;
    HEDDLES = HEDDLES "loom.heddle.heddles" 1.0..2.0 by 1.0 Either;
    BLADE = BLADE "loom.heddle.blade" 0.6..12.0 by 0.1 Either;
    EYE = EYE "loom.heddle.eye" 0.4..6.0 by 0.1 Either;
    SLOT_HEIGHT = SLOT_HEIGHT "loom.heddle.slot_height" 30.0..200.0 by 1.0 Either;
    LIFT = LIFT "loom.shed.lift" 8.0..60.0 by 1.0 Either;
    FELL_TO_HEDDLE = FELL_TO_HEDDLE "loom.depth.fell_to_heddle" 8.0..40.0 by 0.5 Either;
    HEDDLE_TO_BACK = HEDDLE_TO_BACK "loom.depth.heddle_to_back" 15.0..150.0 by 1.0 Either;
    SHUTTLE_HEIGHT = SHUTTLE_HEIGHT "loom.shuttle.height" 4.0..40.0 by 1.0 Either;
    WEAVING_WIDTH = WEAVING_WIDTH "loom.weaving_width" 10.0..200.0 by 1.0 Either;
    BEAM = BEAM_DIAMETER "loom.beam.diameter" 20.0..150.0 by 1.0 Either;
    TEETH = TEETH "loom.ratchet.teeth" 8.0..120.0 by 2.0 Either;
    PAWLS = PAWLS "loom.ratchet.pawls" 1.0..4.0 by 1.0 Either;
    TENSION = TENSION_STATED "warp.tension" 2.0..400.0 by 1.0 DownOnly;
    SUPPLY_VOLTAGE = SUPPLY_VOLTAGE "spinner.supply.voltage" 3.0..48.0 by 0.5 DownOnly;
    PACE = PACE "spinner.pace" 0.2..8.0 by 0.05 Either;
    PULL = HAND_PULL "spinner.pull" 4.0..80.0 by 1.0 DownOnly;
    MOTOR_PULLEY = MOTOR_PULLEY "spinner.pulleys.motor" 8.0..120.0 by 1.0 Either;
    SPINDLE_PULLEY = SPINDLE_PULLEY "spinner.pulleys.spindle" 20.0..250.0 by 1.0 Either;
    CENTRES = CENTRES "spinner.pulleys.centres" 60.0..600.0 by 5.0 Either;
    CHEST_EASE = CHEST_EASE "garment.ease.chest" 0.0..40.0 by 0.5 Either;
    HOW_MANY = HOW_MANY "garment.how_many" 1.0..100.0 by 1.0 Either;
    PRINT_WIDTH = PRINT_WIDTH "print.width" 3.0..80.0 by 0.5 Either;
}

/// Ids that no mend may raise, whatever check fails: what they limit can burn, break or throw.
pub static NEVER_RAISED: &[&str] = &[
    "spinner.supply_voltage",
    "spinner.motor_rated",
    "spinner.supply_limit",
    "spinner.safe_speed",
    "spinner.current_share_limit",
    "spinner.pull",
    "spinner.belt_tension",
    "warp.tension_per_tex",
    "warp.tension_share",
    "warp.tension_stated",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_dangerous_is_raised() {
        for knob in ALL {
            let name = id::ALL[knob.slot as usize].name;
            if NEVER_RAISED.contains(&name) {
                assert_eq!(knob.turn, Turn::DownOnly, "{name}");
            }
        }
        for name in NEVER_RAISED {
            assert!(id::slot(name).is_some(), "{name}");
        }
    }
}
