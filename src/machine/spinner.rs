//! The spinner as a thing: spindle, flyer, bobbin, pulleys, motor and frame laid out from the sizes chosen.
//!
//! The spindle lies level, pointing at the spinner; the flyer hangs out in front of the front bearing, the big pulley sits
//! between the bearings, the motor below it on the base. Millimetres: x along the spindle from the front (orifice) back, y
//! across, z up from the base.

mod parts;
mod steps;

use crate::machine::Refusal;
use crate::machine::loom::Step;
use crate::machine::loom::parts::Piece;
use crate::machine::turned::{self, BobbinSize, Bore, Turned};
use crate::trade::stock::{Section, System};
use parts::Boards;

/// A spinner asked for; all mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpinnerWish {
    pub core: f64,
    pub flange: f64,
    pub width: f64,
    pub motor_pulley: f64,
    pub spindle_pulley: f64,
    pub centres: f64,
    pub belt: f64,
    /// Motor's case: diameter, length; its shaft and the shaft's flat where it has one.
    pub motor_case: (f64, f64),
    pub motor_shaft: f64,
    pub motor_flat: Option<f64>,
    pub spindle: f64,
    /// From the axis to the outside of a flyer arm, where the flyer is there already; else the bobbin's flange decides.
    pub reach: Option<f64>,
    /// Mass of that flyer, g; else that of the one drawn.
    pub flyer: Option<f64>,
    /// Base, uprights, flyer and motor stand.
    pub wood: &'static str,
    /// Whose boards and rods it is made of, and whose rule its sizes are written by.
    pub system: System,
}

impl SpinnerWish {
    /// Of metric beech, with a 37 by 57 mm motor on a 3.2 mm shaft and a 10 mm steel spindle.
    pub fn of(core: f64, flange: f64, width: f64, pulleys: (f64, f64), centres: f64, belt: f64) -> Self {
        SpinnerWish {
            core,
            flange,
            width,
            motor_pulley: pulleys.0,
            spindle_pulley: pulleys.1,
            centres,
            belt,
            motor_case: (37.0, 57.0),
            motor_shaft: 3.2,
            motor_flat: None,
            spindle: 10.0,
            reach: None,
            flyer: None,
            wood: "beech",
            system: System::Metric,
        }
    }
    /// The same of the boards and rods of another system; a spindle of three eighths of an inch fits the inch bearings.
    pub fn made_of(self, wood: &'static str, system: System) -> Self {
        SpinnerWish { wood, system, spindle: system.ruler().of(self.spindle, 3.0 / 8.0 * 25.4), ..self }
    }
}

/// Where things are along the spindle, mm from the orifice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Orifice tube's length in front of the flyer.
    pub orifice: f64,
    /// Flyer arms from hub to hub.
    pub flyer: (f64, f64),
    /// Inner side of an arm from the axis.
    pub arm: f64,
    pub arm_section: f64,
    pub bobbin: (f64, f64),
    pub front_bearing: f64,
    pub pulley: f64,
    pub rear_bearing: f64,
    pub spindle_end: f64,
    pub upright_thick: f64,
    pub upright_wide: f64,
    /// Height of the axis above the base's top.
    pub axis: f64,
    /// Along, across, thick; and the boards it is glued up of.
    pub base: (f64, f64, f64),
    pub base_of: &'static Section,
    pub base_boards: u32,
    /// How far the base reaches to the side away from the motor.
    pub base_left: f64,
    /// Motor's axis: across, above the base's top.
    pub motor: (f64, f64),
    /// x of the motor's front face, and of the middles of the two boards that clamp it.
    pub motor_from: f64,
    pub stand: [f64; 2],
    pub stand_wide: f64,
    /// Room round the flyer inside its guard.
    pub guard: f64,
}

/// A spinner worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Spinner {
    pub wish: SpinnerWish,
    pub layout: Layout,
    pub bobbin: Turned,
    pub motor_pulley: Turned,
    pub spindle_pulley: Turned,
    pub bobbin_size: BobbinSize,
    pub parts: Vec<Piece>,
    pub steps: Vec<Step>,
    /// Estimated mass of flyer and of a full bobbin, g, for whirl and run-down.
    pub flyer_mass: f64,
}

/// Room between bobbin and flyer arm; and the least that still keeps a full bobbin off the arm.
const CLEAR: f64 = 6.0;
const LEAST_CLEAR: f64 = 2.0;
/// Section of a flyer arm.
const ARM: f64 = 10.0;
/// Between the spindle's upright and the motor stand, side by side.
const BESIDE: f64 = 4.0;
/// Width of the motor stand, 70 mm or two and three quarters of an inch.
const STAND: (f64, f64) = (70.0, 69.85);
/// An upright and the motor stand end so far above the middles of their holes.
pub const OVER: f64 = 30.0;

/// Lays the spinner out.
///
/// # Errors
/// Sizes that cannot be built: pulleys that touch, a motor pulley smaller than its shaft, a bobbin that is none.
pub fn design(wish: &SpinnerWish) -> Result<Spinner, Refusal> {
    check(wish)?;
    let bobbin_size = BobbinSize {
        core: wish.core,
        flange: wish.flange,
        width: wish.width,
        flange_thick: 4.0,
        bore: wish.spindle + 0.4,
        brake_whorl: (wish.flange * 0.6).max(wish.spindle + 8.0),
        cord: 2.0,
    };
    let bobbin = turned::bobbin(&bobbin_size)?;
    let shaft = match wish.motor_flat {
        Some(flat) => Bore::Flat { diameter: wish.motor_shaft, flat },
        None => Bore::Round { diameter: wish.motor_shaft },
    };
    let motor_pulley = turned::pulley("motor pulley", wish.motor_pulley, wish.belt, shaft)?;
    let spindle_pulley =
        turned::pulley("spindle pulley", wish.spindle_pulley, wish.belt, Bore::Round { diameter: wish.spindle })?;
    let layout = lay_out(wish, &bobbin, &motor_pulley, &spindle_pulley)?;
    let flyer_mass = wish.flyer.unwrap_or_else(|| flyer_mass(&layout));
    let parts = parts::list(wish, &layout);
    let steps = steps::order(wish, &layout);
    Ok(Spinner { wish: *wish, layout, bobbin, motor_pulley, spindle_pulley, bobbin_size, parts, steps, flyer_mass })
}

fn check(w: &SpinnerWish) -> Result<(), Refusal> {
    let ruler = w.system.ruler();
    let number = |about, name: &str, value: f64, low: f64, high: f64| {
        if value >= low && value <= high {
            return Ok(());
        }
        let (is, low, high) = (ruler.says(value), ruler.bare(low), ruler.says(high));
        Err(Refusal::new(about, format!("a {name} of {is} was given; {low} to {high} is accepted")))
    };
    number("bobbin", "flange", w.flange, 20.0, 200.0)?;
    number("bobbin", "width", w.width, 20.0, 300.0)?;
    number("pulleys", "distance of the shafts", w.centres, 20.0, 800.0)?;
    number("motor", "motor case", w.motor_case.0, 10.0, 50.0)?;
    number("motor", "motor length", w.motor_case.1, 10.0, 300.0)?;
    number("spinner", "spindle", w.spindle, 5.0, 25.0)?;
    if let Some(reach) = w.reach {
        number("flyer", "reach of the arms", reach, w.flange / 2.0 + LEAST_CLEAR + ARM, 250.0)?;
    }
    if let Some(mass) = w.flyer {
        let words = format!("a flyer of {mass} g was given; 5 to 2000 g is accepted");
        (5.0..=2000.0).contains(&mass).then_some(()).ok_or_else(|| Refusal::new("flyer", words))?;
    }
    let touch = (w.motor_pulley + w.spindle_pulley) / 2.0 + 5.0;
    if w.centres < touch {
        return Err(Refusal::new(
            "pulleys",
            format!("shafts {} apart: these pulleys need {} and more", ruler.says(w.centres), ruler.says(touch.ceil())),
        ));
    }
    Ok(())
}

fn lay_out(w: &SpinnerWish, bobbin: &Turned, small: &Turned, big: &Turned) -> Result<Layout, Refusal> {
    let arm_section = ARM;
    let arm = w.reach.map_or(w.flange / 2.0 + CLEAR, |reach| reach - arm_section);
    let guard = arm + arm_section + 12.0;
    let orifice = 30.0;
    let flyer = (orifice, orifice + bobbin.height() + 24.0);
    let bobbin_at = (flyer.0 + 12.0, flyer.0 + 12.0 + bobbin.height());
    let front = flyer.1 + 22.0;
    let pulley = front + 20.0 + big.height() / 2.0;
    let rear = pulley + big.height() / 2.0 + 20.0;
    // The flyer must clear the base, and the motor stand on it: the motor's axis goes straight down, or aslant when the shafts are
    // nearer than the flyer needs.
    let motor_height = w.motor_case.0 / 2.0 + 8.0;
    let axis = guard.max(big.reach() + 12.0).max(motor_height + 20.0);
    let boards = Boards::of(w.system);
    let (thick, upright_wide) = (boards.upright.thick, boards.upright.wide);
    // The motor's stand goes beside the rear upright; with the shafts nearer than the flyer needs the motor stands higher.
    let stand_wide = w.system.ruler().of(STAND.0, STAND.1);
    let beside = (upright_wide + stand_wide) / 2.0 + BESIDE;
    if w.centres < beside {
        let (is, least) = (w.system.ruler().says(w.centres), w.system.ruler().says(beside.ceil()));
        let words = format!("shafts {is} apart: the motor would stand in the spindle's upright; {least} at least");
        return Err(Refusal::new("pulleys", words));
    }
    let down = axis - motor_height;
    let level = (w.centres * w.centres - down * down).max(0.0).sqrt();
    let across = level.max(beside);
    let motor_z = axis - (w.centres * w.centres - across * across).sqrt();
    let left = guard + 15.0;
    let needs = left + (across + stand_wide / 2.0 + 8.0).max(left);
    let (base_of, base_boards) = boards.base(needs);
    let wide = f64::from(base_boards) * base_of.wide;
    let end = rear + 24.0;
    let motor_from = pulley + small.height() / 2.0 + 6.0;
    // The front board of the stand ends a little behind the motor's face, the rear one a little before its end.
    let stand = [motor_from + 4.0 + thick / 2.0, motor_from + w.motor_case.1 - 4.0 - thick / 2.0];
    if wide > 900.0 {
        return Err(Refusal::new("pulleys", "the shafts lie too far apart for a bench spinner"));
    }
    Ok(Layout {
        orifice,
        flyer,
        arm,
        arm_section,
        bobbin: bobbin_at,
        front_bearing: front,
        pulley,
        rear_bearing: rear,
        spindle_end: end,
        upright_thick: thick,
        upright_wide,
        axis,
        base: (end.max(motor_from + w.motor_case.1) + 40.0, wide, base_of.thick),
        base_of,
        base_boards,
        base_left: left,
        motor: (across, motor_z),
        motor_from,
        stand: [stand[0], stand[1].max(stand[0] + thick)],
        stand_wide,
        guard,
    })
}

/// Two arms and two hubs of beech, hooks: g.
fn flyer_mass(l: &Layout) -> f64 {
    let long = l.flyer.1 - l.flyer.0;
    let arms = 2.0 * long * l.arm_section * l.arm_section;
    let cross = 2.0 * l.arm * l.arm_section * 14.0;
    (arms + cross) * 0.72 / 1000.0 + 8.0
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn tern_bay() -> SpinnerWish {
        SpinnerWish::of(22.0, 68.0, 80.0, (18.0, 63.0), 170.0, 2.0)
    }

    #[test]
    fn tern_bay_stands() {
        let s = design(&tern_bay()).unwrap();
        let l = &s.layout;
        // The shafts are as far apart as the belt was worked out for.
        let (dy, dz) = (l.motor.0, l.axis - l.motor.1);
        assert!((libm::hypot(dy, dz) - 170.0).abs() < 1e-9);
        assert!(l.arm > 34.0 && l.axis >= l.guard);
        assert!(l.bobbin.1 < l.flyer.1 && l.flyer.1 < l.front_bearing && l.pulley < l.rear_bearing);
        for part in [&s.bobbin, &s.motor_pulley, &s.spindle_pulley] {
            assert!(part.mesh().unwrap().prove().is_ok(), "{}", part.name);
        }
        assert!((30.0..200.0).contains(&s.flyer_mass));
    }

    #[test]
    fn what_cannot_be_built_is_refused() {
        let words = |w: SpinnerWish| design(&w).unwrap_err().to_string();
        assert!(words(SpinnerWish { centres: 30.0, ..tern_bay() }).contains("46 mm"));
        assert!(words(SpinnerWish { centres: 80.0, ..tern_bay() }).contains("86 mm at least"));
        assert!(words(SpinnerWish { motor_pulley: 4.0, ..tern_bay() }).contains("shaft"));
        assert!(words(SpinnerWish { flange: f64::NAN, ..tern_bay() }).contains("flange"));
        assert!(words(SpinnerWish { core: 8.0, ..tern_bay() }).contains("core"));
        assert!(words(SpinnerWish { reach: Some(36.0), ..tern_bay() }).contains("46 to 250 mm"));
        assert!(words(SpinnerWish { flyer: Some(f64::NAN), ..tern_bay() }).contains("flyer"));
    }

    /// A flyer that is there already is drawn and reckoned with as it is.
    #[test]
    fn a_flyer_of_ones_own() {
        let own = design(&SpinnerWish { reach: Some(60.0), flyer: Some(150.0), ..tern_bay() }).unwrap();
        assert_eq!((own.layout.arm + own.layout.arm_section, own.flyer_mass), (60.0, 150.0));
        assert!(own.layout.guard > design(&tern_bay()).unwrap().layout.guard);
    }
}
