//! Which of the pulleys to hand: every pair is tried, the pair whose reachable speeds lie best about the work wins.

use crate::formulas::spinner::{BELT_LENGTH, BELT_WRAP};
use crate::machine::Refusal;
use crate::machine::drive::Rig;
use crate::units::{AMP, Length, MM, Q, RPM, Rotation};

/// Most pulleys looked at on each shaft.
pub const MOST_PULLEYS: usize = 60;

/// What the pulleys must do.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// Pitch diameters to hand for the motor's shaft.
    pub motor: Vec<Q<Length>>,
    /// Pitch diameters to hand for the spindle.
    pub spindle: Vec<Q<Length>>,
    /// Distance of the shafts.
    pub centres: Q<Length>,
    /// Thickness of the belt.
    pub belt: Q<Length>,
    /// A round moulded belt bends worse than a cord: least pulley 8 thicknesses instead of 5 (common practice, no source).
    pub moulded: bool,
    /// Speed of the work.
    pub work: Q<Rotation>,
    /// What the flyer is trusted with when the switch fails on.
    pub safe: Q<Rotation>,
}

/// A pair tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub motor: Q<Length>,
    pub spindle: Q<Length>,
    pub ratio: f64,
    /// Slowest speed from which a full bobbin starts by itself, and fastest within the motor's voltage.
    pub range: Option<(Q<Rotation>, Q<Rotation>)>,
    /// Knob for the work, 0 to 1.
    pub knob: f64,
    pub current: Option<f64>,
    pub belt_length: Q<Length>,
    /// Arc on the smaller pulley, degrees.
    pub wrap: f64,
    /// How far the work lies from both ends of the range, as a factor; more is better.
    pub room: f64,
    /// Why not, in words; empty for a pair that works.
    pub against: Vec<String>,
}

/// All pairs, working ones first, those with most room about the work foremost.
///
/// # Errors
/// No pulleys, too many, or sizes that are none.
pub fn choose(rig: &Rig, wish: &Wish) -> Result<Vec<Choice>, Refusal> {
    for (name, list) in [("motor", &wish.motor), ("spindle", &wish.spindle)] {
        if list.is_empty() || list.len() > MOST_PULLEYS {
            return Err(Refusal::new(
                "pulleys",
                format!("{} {name} pulleys; 1 to {MOST_PULLEYS} are looked at", list.len()),
            ));
        }
    }
    let mut out = Vec::new();
    for motor in &wish.motor {
        for spindle in &wish.spindle {
            let rig = Rig { motor_pulley: *motor, spindle_pulley: *spindle, ..*rig };
            rig.check()?;
            out.push(weigh(&rig, wish));
        }
    }
    out.sort_by(|a, b| {
        (a.against.len().cmp(&b.against.len())).then(b.room.total_cmp(&a.room)).then(a.ratio.total_cmp(&b.ratio))
    });
    Ok(out)
}

fn weigh(rig: &Rig, wish: &Wish) -> Choice {
    let work = wish.work.get(&RPM);
    let start = rig.starting_knob().and_then(|k| rig.at(k));
    let fastest = rig.at(rig.knob_limit());
    let range = start.zip(fastest).map(|(s, f)| (s.spindle, f.spindle));
    let knob = rig.knob_for(wish.work);
    let (a, b, c) = (rig.spindle_pulley.get(&MM), rig.motor_pulley.get(&MM), wish.centres.get(&MM));
    let wrap = (BELT_WRAP.code)([a, b, c]);
    let current = rig.at(knob).map(|p| p.current.get(&AMP));
    let room = range.map_or(0.0, |(s, f)| (work / s.get(&RPM)).min(f.get(&RPM) / work));
    Choice {
        motor: rig.motor_pulley,
        spindle: rig.spindle_pulley,
        ratio: rig.ratio(),
        range,
        knob,
        current,
        belt_length: Q::new((BELT_LENGTH.code)([a, b, c]), &MM),
        wrap,
        room,
        against: against(rig, wish, (range, knob, wrap, current)),
    }
}

type Found = (Option<(Q<Rotation>, Q<Rotation>)>, f64, f64, Option<f64>);

fn against(rig: &Rig, wish: &Wish, (range, knob, wrap, current): Found) -> Vec<String> {
    let mut out = Vec::new();
    let work = wish.work.get(&RPM);
    let small = rig.motor_pulley.get(&MM).min(rig.spindle_pulley.get(&MM));
    match range {
        None => out.push("the motor cannot start a full bobbin".into()),
        Some((slow, _)) if slow.get(&RPM) > work => {
            out.push(format!("starts a full bobbin only at {:.0} rpm, above the work", slow.get(&RPM)));
        }
        _ => {}
    }
    if knob > rig.knob_limit() {
        out.push(format!("needs {:.0} % of the knob, allowed are {:.0} %", 100.0 * knob, 100.0 * rig.knob_limit()));
    }
    if current.is_some_and(|i| i > rig.lasting_current().get(&AMP)) {
        out.push(format!("{:.2} A is more than the winding stands for long", current.unwrap_or(0.0)));
    }
    if rig.runaway().get(&RPM) > wish.safe.get(&RPM) {
        out.push(format!("could run away to {:.0} rpm", rig.runaway().get(&RPM)));
    }
    if small < wish.belt.get(&MM) * if wish.moulded { 8.0 } else { 5.0 } {
        out.push(format!("a {small:.0} mm pulley bends this belt too sharply"));
    }
    if wrap < 120.0 || !wrap.is_finite() {
        out.push(format!("the belt lies on only {wrap:.0} degrees of the small pulley"));
    }
    if wish.centres.get(&MM) < (rig.motor_pulley.get(&MM) + rig.spindle_pulley.get(&MM)) / 2.0 + 5.0 {
        out.push("the pulleys would touch at this distance of the shafts".into());
    }
    out
}

/// Torque (mN·m) the belt of a choice passes from the motor pulley before it slips, for its tension at rest and friction
/// (groove included).
pub fn belt_torque(choice: &Choice, tension_n: f64, friction: f64) -> f64 {
    let gain = (crate::formulas::spinner::CAPSTAN.code)([friction, choice.wrap]);
    (crate::formulas::spinner::BELT_TORQUE.code)([tension_n, gain, choice.motor.get(&MM)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machine::drive::tests::tern_bay;

    fn wish(motor: &[f64], spindle: &[f64]) -> Wish {
        let mm = |list: &[f64]| list.iter().map(|d| Q::new(*d, &MM)).collect();
        Wish {
            motor: mm(motor),
            spindle: mm(spindle),
            centres: Q::new(170.0, &MM),
            belt: Q::new(2.0, &MM),
            moulded: true,
            work: Q::new(1100.0, &RPM),
            safe: Q::new(2000.0, &RPM),
        }
    }

    /// Pulleys from a salvage box: too fast a pair runs away, too slow a pair cannot reach the work, the middle one wins.
    #[test]
    fn the_salvage_box() {
        let list = choose(&tern_bay(), &wish(&[12.0, 18.0, 30.0], &[40.0, 63.0, 120.0])).unwrap();
        assert_eq!(list.len(), 9);
        let best = &list[0];
        assert_eq!((best.motor.get(&MM), best.spindle.get(&MM)), (18.0, 63.0), "{best:?}");
        assert!(best.against.is_empty() && best.room > 1.2);
        let of = |m: f64, s: f64| list.iter().find(|c| c.motor.get(&MM) == m && c.spindle.get(&MM) == s).unwrap();
        assert!(of(30.0, 40.0).against.iter().any(|w| w.contains("run away")));
        assert!(of(12.0, 120.0).against.iter().any(|w| w.contains("of the knob")));
        assert!(of(12.0, 63.0).against.iter().any(|w| w.contains("too sharply")));
    }

    /// The winner beats every other working pair on its own measure (the search is exhaustive, so this is its definition).
    #[test]
    fn the_winner_has_most_room() {
        let sizes: Vec<f64> = (16..40).map(f64::from).collect();
        let list = choose(&tern_bay(), &wish(&sizes, &[50.0, 63.0, 75.0, 90.0])).unwrap();
        let working: Vec<&Choice> = list.iter().filter(|c| c.against.is_empty()).collect();
        assert!(!working.is_empty());
        assert!(working.iter().all(|c| c.room <= working[0].room));
    }

    #[test]
    fn empty_and_impossible_boxes_are_refused() {
        assert!(choose(&tern_bay(), &wish(&[], &[60.0])).is_err());
        assert!(choose(&tern_bay(), &wish(&[-3.0], &[60.0])).unwrap_err().to_string().contains("motor pulley of -3"));
    }
}
