//! Turning fast: the speed at which a shaft whirls, how well a flyer must be balanced, what it holds when it lets go, and how
//! long it runs on.

use crate::units::{Length, MM, Mass, Q, RPM, Rotation, Stress, Torque};
use std::f64::consts::PI;

/// A spindle as a beam: a flyer of some mass hung out beyond two bearings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaft {
    pub diameter: Q<Length>,
    pub elasticity: Q<Stress>,
    /// Bearing to bearing.
    pub between: Q<Length>,
    /// Last bearing to the flyer's middle.
    pub overhang: Q<Length>,
    /// Flyer and full bobbin.
    pub mass: Q<Mass>,
}

/// Lowest whirling speed of an overhung mass, shaft mass left out: k = 3 E I / (a² (L + a)) from the deflection of an overhung
/// end load (Roark, table 8), n = sqrt(k/m) (Rayleigh). `None` where a size is not positive.
pub fn whirling_speed(shaft: &Shaft) -> Option<Q<Rotation>> {
    let (d, e, l) = (shaft.diameter.to_si(), shaft.elasticity.to_si(), shaft.between.to_si());
    let (a, m) = (shaft.overhang.to_si(), shaft.mass.to_si());
    if !(d > 0.0 && e > 0.0 && l > 0.0 && a > 0.0 && m > 0.0) {
        return None;
    }
    let second_moment = PI / 64.0 * d * d * d * d;
    let stiffness = 3.0 * e * second_moment / (a * a * (l + a));
    Some(Q::si((stiffness / m).sqrt()))
}

/// Highest share of the whirling speed to work at (common practice, no source: seven tenths).
pub const WHIRL_SHARE: f64 = 0.7;

/// Allowed offset of the centre of mass for balance quality grade G (mm/s), e = G/ω (ISO 21940-11; from memory). G 6.3 is the
/// grade of general machines.
pub fn balance_offset(grade_mm_s: f64, speed: Q<Rotation>) -> Option<Q<Length>> {
    (speed.to_si() > 0.0 && grade_mm_s > 0.0).then(|| Q::new(grade_mm_s / speed.to_si(), &MM))
}

/// A flyer as a hub disc and two arms of round or square rod, with guides along them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flyer {
    pub mass: Q<Mass>,
    /// From the axis to the arms.
    pub arm_radius: Q<Length>,
    /// Share of the mass that runs at that radius; the rest counts as a disc of half the radius.
    pub at_arms: f64,
}

/// Moment of inertia, kg·m².
pub fn inertia(flyer: &Flyer) -> f64 {
    let (m, r) = (flyer.mass.to_si(), flyer.arm_radius.to_si());
    m * r * r * (flyer.at_arms + (1.0 - flyer.at_arms) * 0.125)
}

/// Energy held at a speed, joules: ½ J ω².
pub fn energy(inertia_kg_m2: f64, speed: Q<Rotation>) -> f64 {
    0.5 * inertia_kg_m2 * speed.to_si() * speed.to_si()
}

/// Time to run down under a steady torque, seconds: J ω / M. `None` without torque.
pub fn run_down(inertia_kg_m2: f64, speed: Q<Rotation>, torque: Q<Torque>) -> Option<f64> {
    (torque.to_si() > 0.0).then(|| inertia_kg_m2 * speed.to_si() / torque.to_si())
}

/// Setting of the slow relay: three times the run-down, three seconds at least, whole seconds.
pub fn wait_seconds(run_down: f64) -> f64 {
    (3.0 * run_down).max(3.0).ceil()
}

/// Pull outward on a mass on the flyer's arm, newtons: m r ω².
pub fn fling(mass: Q<Mass>, radius: Q<Length>, speed: Q<Rotation>) -> f64 {
    mass.to_si() * radius.to_si() * speed.to_si() * speed.to_si()
}

/// Speed to spin a new flyer at behind a board before it is trusted at `working`: a quarter above the runaway speed.
pub fn test_speed(runaway: Q<Rotation>) -> Q<Rotation> {
    Q::new(1.25 * runaway.get(&RPM), &RPM)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{G, GPA, KG, UM};

    /// An overhung end load bends by P a² (L + a)/(3 E I); the whirl by Rayleigh's other form, sqrt(g/δ), is the same.
    #[test]
    fn two_forms_of_the_whirling_speed_agree() {
        let shaft = Shaft {
            diameter: Q::new(10.0, &MM),
            elasticity: Q::new(205.0, &GPA),
            between: Q::new(120.0, &MM),
            overhang: Q::new(90.0, &MM),
            mass: Q::new(300.0, &G),
        };
        let n = whirling_speed(&shaft).unwrap();
        let second_moment = PI / 64.0 * 10.0f64 * 10.0 * 10.0 * 10.0;
        let droop = 0.3 * 9.806_65 * 90.0 * 90.0 * 210.0 / (3.0 * 205_000.0 * second_moment) / 1000.0;
        assert!((n.to_si() - (9.806_65 / droop).sqrt()).abs() < 1e-9);
        assert!(n.get(&RPM) > 4000.0);
        assert!(whirling_speed(&Shaft { mass: Q::si(0.0), ..shaft }).is_none());
    }

    /// ISO 21940-11 (from memory): G 6.3 at 3 000 rpm allows 20 µm.
    #[test]
    fn balance_grade() {
        let e = balance_offset(6.3, Q::new(3000.0, &RPM)).unwrap();
        assert!((e.get(&UM) - 20.05).abs() < 0.01);
    }

    #[test]
    fn a_flyer_at_1800_rpm() {
        let flyer = Flyer { mass: Q::new(120.0, &G), arm_radius: Q::new(48.0, &MM), at_arms: 0.6 };
        let (j, n) = (inertia(&flyer), Q::new(1800.0, &RPM));
        assert!((energy(j, n) - 0.5 * j * 188.5 * 188.5).abs() < 0.01);
        assert!(run_down(j, n, Q::si(0.0)).is_none());
        let t = run_down(j, n, Q::si(0.019)).unwrap();
        assert!(t > 1.0 && t < 4.0, "{t}");
        assert_eq!(wait_seconds(0.2), 3.0);
        // A gram at 48 mm pulls 1.7 N at 1 800 rpm.
        assert!((fling(Q::new(0.001, &KG), Q::new(48.0, &MM), n) - 1.705).abs() < 0.01);
    }
}
