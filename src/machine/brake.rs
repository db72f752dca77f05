//! The bobbin's brake: what torque it must have from empty to full, and where its peg must stand, for Z and for S.
//!
//! The brake is a cord over a whorl with one spring. The side the spring is on decides the gain: with the spring where the
//! cord leaves, friction winds the cord tight and the torque is strong and touchy; with the spring where it comes on, weak and
//! steady. Turning the other way (S, plying) swaps the two, so the marks differ: one table each. Formulas are the registry's.

use crate::formulas::spinner as f;
use crate::machine::Refusal;
use crate::units::{
    Angle, CN, DEG, Force, Length, M_MIN, MM, MN_M, N, ONE, PER_M, PerLength, Q, RPM, Ratio, Rotation, Speed, Torque,
};

/// What goes round by the belt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Driven {
    /// Flyer driven, bobbin braked.
    Flyer,
    /// Bobbin driven, flyer braked.
    Bobbin,
    /// One band on both whorls.
    Both,
}

/// Where the cord's spring is, looking at the machine turning for Z.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spring {
    /// Where the whorl's rim runs into the cord: weak and steady for Z.
    Oncoming,
    /// Where the rim leaves the cord: strong and touchy for Z.
    Leaving,
    /// A spring at each end: the same both ways.
    Both,
}

/// Everything about the brake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brake {
    /// Pull of the yarn wished at the hand.
    pub hand: Q<Force>,
    /// Friction and wrap of the yarn on orifice and hooks.
    pub hook_friction: Q<Ratio>,
    pub hook_wrap: Q<Angle>,
    /// Winding diameters, empty and full.
    pub core: Q<Length>,
    pub full: Q<Length>,
    /// What the turning shaft drags the bobbin round with.
    pub shaft_drag: Q<Torque>,
    /// Groove of the brake's whorl.
    pub whorl: Q<Length>,
    /// Friction of cord on whorl: least, middle, greatest.
    pub cord_friction: [f64; 3],
    pub cord_wrap: Q<Angle>,
    pub spring: Spring,
    /// N a millimetre of stretch.
    pub spring_rate: f64,
    /// Cord taken up by one turn of the peg.
    pub per_turn: Q<Length>,
    pub flyer: Q<Rotation>,
    pub pace: Q<Speed>,
}

/// Peg and spring at one winding diameter and one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Spring tension at the middle friction.
    pub tension: Q<Force>,
    /// The spring longer by this, and the peg turned by this many turns from slack.
    pub stretch: Q<Length>,
    pub turns: f64,
    /// Turns at greatest and least friction: where the mark may really lie.
    pub doubt: (f64, f64),
}

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Share of the bobbin filled, by radius: 0 empty, 1 full.
    pub filled: f64,
    pub diameter: Q<Length>,
    /// Net of the drag, and what the band has to make.
    pub net: Q<Torque>,
    pub band: Q<Torque>,
    /// Turns by which bobbin and flyer differ.
    pub wind_on: Q<Rotation>,
    pub bobbin: Q<Rotation>,
    pub z: Mark,
    pub s: Mark,
}

/// The table from empty to full in `steps` even steps of diameter.
///
/// # Errors
/// Sizes that are none, a full bobbin not larger than its core, or friction outside 0.05 to 1.
pub fn table(brake: &Brake, steps: u32) -> Result<Vec<Row>, Refusal> {
    check(brake)?;
    let steps = steps.clamp(1, 50);
    Ok((0..=steps).map(|i| row(brake, f64::from(i) / f64::from(steps))).collect())
}

fn row(b: &Brake, filled: f64) -> Row {
    let diameter = b.core.get(&MM) + filled * (b.full.get(&MM) - b.core.get(&MM));
    let at_bobbin = (f::PULL_AT_BOBBIN.code)([b.hand.get(&CN), b.hook_friction.get(&ONE), b.hook_wrap.get(&DEG)]);
    let net = (f::BRAKE_TORQUE.code)([at_bobbin, diameter]);
    // The shaft helps the bobbin round, so the band has to hold that as well.
    let band = net + b.shaft_drag.get(&MN_M);
    let wind_on = (f::WIND_ON.code)([b.pace.get(&M_MIN), diameter]);
    Row {
        filled,
        diameter: Q::new(diameter, &MM),
        net: Q::new(net, &MN_M),
        band: Q::new(band, &MN_M),
        wind_on: Q::new(wind_on, &RPM),
        bobbin: Q::new((f::BOBBIN_LAGS.code)([b.flyer.get(&RPM), wind_on]), &RPM),
        z: mark(b, band, b.spring),
        s: mark(b, band, turned(b.spring)),
    }
}

fn turned(spring: Spring) -> Spring {
    match spring {
        Spring::Oncoming => Spring::Leaving,
        Spring::Leaving => Spring::Oncoming,
        Spring::Both => Spring::Both,
    }
}

/// Torque of a newton of spring tension.
fn gain(b: &Brake, friction: f64, spring: Spring) -> f64 {
    let grip = (f::CAPSTAN.code)([friction, b.cord_wrap.get(&DEG)]);
    let whorl = b.whorl.get(&MM);
    match spring {
        Spring::Leaving => (f::BAND_LEAVING.code)([1.0, grip, whorl]),
        Spring::Oncoming => (f::BAND_ONCOMING.code)([1.0, grip, whorl]),
        // Each end starts at the same tension T; turning adds x on one side and takes it on the other until they stand as
        // the grip: torque (T1 − T2) r with T1 + T2 = 2 T, the belt's own formula.
        Spring::Both => (f::BELT_TORQUE.code)([1.0, grip, whorl]),
    }
}

fn mark(b: &Brake, band: f64, spring: Spring) -> Mark {
    let at = |friction: f64| band / gain(b, friction, spring);
    let turns = |tension: f64| tension / b.spring_rate / b.per_turn.get(&MM);
    let [least, middle, most] = b.cord_friction;
    let tension = at(middle);
    Mark {
        tension: Q::new(tension, &N),
        stretch: Q::new(tension / b.spring_rate, &MM),
        turns: turns(tension),
        doubt: (turns(at(most)), turns(at(least))),
    }
}

fn check(b: &Brake) -> Result<(), Refusal> {
    let number = |name: &str, value: f64, low: f64, high: f64, unit: &str| {
        if value >= low && value <= high {
            return Ok(());
        }
        Err(Refusal::new("bobbin", format!("a {name} of {value} {unit} was given; {low} to {high} {unit} is accepted")))
    };
    number("pull at the hand", b.hand.get(&CN), 0.5, 500.0, "cN")?;
    number("core", b.core.get(&MM), 4.0, 300.0, "mm")?;
    number("full bobbin", b.full.get(&MM), b.core.get(&MM) + 1.0, 400.0, "mm")?;
    number("brake whorl", b.whorl.get(&MM), 4.0, 300.0, "mm")?;
    number("cord wrap", b.cord_wrap.get(&DEG), 30.0, 1080.0, "degrees")?;
    number("hook friction", b.hook_friction.get(&ONE), 0.0, 1.0, "")?;
    number("hook wrap", b.hook_wrap.get(&DEG), 0.0, 720.0, "degrees")?;
    number("shaft drag", b.shaft_drag.get(&MN_M), 0.0, 500.0, "mN·m")?;
    number("spring rate", b.spring_rate, 0.001, 100.0, "N/mm")?;
    number("cord taken up by a turn", b.per_turn.get(&MM), 0.5, 200.0, "mm")?;
    let [least, middle, most] = b.cord_friction;
    number("cord friction", least, 0.05, 1.0, "")?;
    number("cord friction", middle, least, 1.0, "")?;
    number("cord friction", most, middle, 1.0, "")
}

/// How wind-on stands for one way of driving.
#[derive(Clone, Debug, PartialEq)]
pub struct WindOn {
    pub driven: Driven,
    /// Flyer and bobbin, empty and full.
    pub flyer: [Q<Rotation>; 2],
    pub bobbin: [Q<Rotation>; 2],
    /// Twist put in, empty and full.
    pub twist: [Q<PerLength>; 2],
    /// Whorl ratio that one band on both needs at the core.
    pub least_whorl_ratio: f64,
    /// Whether yarn winds on, and why or why not.
    pub winds: bool,
    pub words: String,
}

/// Wind-on for the driven part turning at `speed`, `whorls` the flyer's whorl over the bobbin's.
pub fn wind_on(
    driven: Driven,
    speed: Q<Rotation>,
    pace: Q<Speed>,
    core: Q<Length>,
    full: Q<Length>,
    whorls: f64,
) -> WindOn {
    let ends = [core, full];
    let lag = ends.map(|d| (f::WIND_ON.code)([pace.get(&M_MIN), d.get(&MM)]));
    let (n, v) = (speed.get(&RPM), pace.get(&M_MIN));
    let (flyer, bobbin): ([f64; 2], [f64; 2]) = match driven {
        Driven::Flyer => ([n; 2], lag.map(|l| (f::BOBBIN_LAGS.code)([n, l]))),
        Driven::Bobbin => (lag.map(|l| n - l), [n; 2]),
        // The bobbin slips in its band down to the speed at which yarn is taken.
        Driven::Both => ([n; 2], lag.map(|l| (f::BOBBIN_LEADS.code)([n, l]))),
    };
    let twist = flyer.map(|n| n / v);
    let least = (f::LEAST_WHORL_RATIO.code)([core.get(&MM), twist[0].max(1.0)]);
    let slowest = flyer[0].min(flyer[1]).min(bobbin[0]).min(bobbin[1]);
    let (winds, words) = match driven {
        _ if slowest <= 0.0 => (
            false,
            format!("at this pace {:.0} rpm of difference are needed on an empty bobbin: more than it turns", lag[0]),
        ),
        Driven::Both if whorls < least => (
            false,
            format!(
                "the whorls stand {whorls:.3} to 1; the empty bobbin needs at least {least:.3} to 1 to draw yarn in"
            ),
        ),
        Driven::Flyer => (true, format!("the bobbin lags by {:.0} rpm empty and {:.0} full", lag[0], lag[1])),
        Driven::Bobbin => (true, format!("the flyer lags by {:.0} rpm empty and {:.0} full", lag[0], lag[1])),
        Driven::Both => {
            (true, format!("the bobbin leads by up to {:.0} rpm and slips for the rest", n * (whorls - 1.0)))
        }
    };
    let rpm = |list: [f64; 2]| list.map(|n| Q::new(n, &RPM));
    WindOn {
        driven,
        flyer: rpm(flyer),
        bobbin: rpm(bobbin),
        twist: twist.map(|t| Q::new(t, &PER_M)),
        least_whorl_ratio: least,
        winds,
        words,
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn tern_bay() -> Brake {
        Brake {
            hand: Q::new(22.0, &CN),
            hook_friction: Q::new(0.25, &ONE),
            hook_wrap: Q::new(180.0, &DEG),
            core: Q::new(22.0, &MM),
            full: Q::new(62.6, &MM),
            shaft_drag: Q::new(1.0, &MN_M),
            whorl: Q::new(40.0, &MM),
            cord_friction: [0.2, 0.3, 0.4],
            cord_wrap: Q::new(180.0, &DEG),
            spring: Spring::Oncoming,
            spring_rate: 0.05,
            per_turn: Q::new(20.0, &MM),
            flyer: Q::new(1100.0, &RPM),
            pace: Q::new(2.0, &M_MIN),
        }
    }

    /// The practitioner's figures: 22 cN at the hand is 48 cN at the bobbin, 5.3 to 15.1 mN·m net.
    #[test]
    fn torque_from_empty_to_full() {
        let rows = table(&tern_bay(), 4).unwrap();
        assert!((rows[0].net.get(&MN_M) - 5.3).abs() < 0.05, "{:?}", rows[0].net.get(&MN_M));
        assert!((rows[4].net.get(&MN_M) - 15.1).abs() < 0.05);
        assert!(rows.windows(2).all(|w| w[1].z.turns > w[0].z.turns));
        // F2 at 22 mm: 2 m/min need 28.9 rpm of difference.
        assert!((rows[0].wind_on.get(&RPM) - 2000.0 / (std::f64::consts::PI * 22.0)).abs() < 1e-9);
    }

    /// Gains of a band at friction 0.3 round half a turn: 1.57 with the spring at the leaving end, 0.61 at the oncoming one,
    /// a ratio of 2.6; over 0.2 to 0.4 the first runs 0.87 to 2.51, the second 0.47 to 0.72 (band-brake statics).
    #[test]
    fn the_direction_swaps_the_gain() {
        let b = tern_bay();
        let per = |mu: f64, s: Spring| gain(&b, mu, s) / (b.whorl.get(&MM) / 2.0);
        let near = |a: f64, want: f64| assert!((a - want).abs() < 0.006, "{a} {want}");
        near(per(0.3, Spring::Leaving), 1.57);
        near(per(0.3, Spring::Oncoming), 0.61);
        near(per(0.2, Spring::Leaving), 0.87);
        near(per(0.4, Spring::Leaving), 2.51);
        near(per(0.2, Spring::Oncoming), 0.47);
        near(per(0.4, Spring::Oncoming), 0.715);
        let row = table(&b, 1).unwrap()[1];
        near(row.z.turns / row.s.turns, 2.566);
        let even = table(&Brake { spring: Spring::Both, ..b }, 1).unwrap()[1];
        assert!((even.z.turns - even.s.turns).abs() < 1e-12);
        let spread = |m: Mark| m.doubt.1 / m.doubt.0;
        assert!(spread(row.z) < 1.6 && spread(row.s) > 2.8, "steady against touchy");
    }

    #[test]
    fn wind_on_of_three_drives() {
        let go = |driven, whorls| {
            wind_on(driven, Q::new(1100.0, &RPM), Q::new(2.0, &M_MIN), Q::new(22.0, &MM), Q::new(62.6, &MM), whorls)
        };
        assert!(go(Driven::Flyer, 1.0).winds);
        let led = go(Driven::Bobbin, 1.0);
        // Falls short by one turn a wrap: 14.5 turns/m at 22 mm, 2.6 % of 550.
        let short = 550.0 - led.twist[0].get(&PER_M);
        assert!((short - 14.47).abs() < 0.01 && (short / 550.0 - 0.0263).abs() < 1e-3, "{short}");
        assert!(!go(Driven::Both, 1.01).winds && go(Driven::Both, 1.05).winds);
        let fast =
            wind_on(Driven::Flyer, Q::new(20.0, &RPM), Q::new(2.0, &M_MIN), Q::new(22.0, &MM), Q::new(62.0, &MM), 1.0);
        assert!(!fast.winds && fast.words.contains("more than it turns"));
    }

    #[test]
    fn nonsense_is_refused() {
        let words = |b: Brake| table(&b, 4).unwrap_err().to_string();
        assert!(words(Brake { full: Q::new(20.0, &MM), ..tern_bay() }).contains("full bobbin of 20 mm"));
        assert!(words(Brake { spring_rate: 0.0, ..tern_bay() }).contains("spring rate"));
        assert!(words(Brake { cord_friction: [0.3, 0.2, 0.4], ..tern_bay() }).contains("cord friction"));
    }
}
