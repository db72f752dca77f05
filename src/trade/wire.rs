//! Copper wire: sizes, what they carry, what they lose; fuses made.
//!
//! For extra-low voltage leads of a metre or two. Nothing here is meant for mains.

use crate::units::{Current, Length, Q, Resistance};

/// A wire size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// "0.75 mm2" or "AWG 18".
    pub name: &'static str,
    /// Copper section, mm².
    pub square_mm: f64,
    /// Amperes carried for good in free air, PVC covered, 40 °C.
    pub carries: f64,
}

/// Metric sizes. Currents: IEC 60204-1, Table 6, method E (free air, 40 °C, PVC), from memory; 0.5 mm² taken as two thirds of
/// 0.75 mm².
pub static METRIC: &[Wire] = &[
    Wire { name: "0.5 mm2", square_mm: 0.5, carries: 6.9 },
    Wire { name: "0.75 mm2", square_mm: 0.75, carries: 10.4 },
    Wire { name: "1 mm2", square_mm: 1.0, carries: 12.4 },
    Wire { name: "1.5 mm2", square_mm: 1.5, carries: 16.1 },
    Wire { name: "2.5 mm2", square_mm: 2.5, carries: 22.0 },
    Wire { name: "4 mm2", square_mm: 4.0, carries: 30.0 },
];

/// Resistivity of annealed copper at 20 °C, Ω·mm²/m: IEC 60028.
pub const COPPER: f64 = 1.0 / 58.0;

/// Fuse links made, A: the R10 steps of IEC 60127 up to 10 A, and the blade sizes after (from memory).
pub static FUSES: &[f64] = &[
    0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 7.5, 8.0, 10.0, 15.0, 20.0, 25.0,
    30.0,
];

/// Diameter of an American wire gauge number in mm: 0.127 × 92^((36−n)/39) (ASTM B258).
pub fn awg_diameter_mm(gauge: i32) -> f64 {
    0.127 * libm::pow(92.0, f64::from(36 - gauge) / 39.0)
}

/// The nearest gauge number whose copper is not less than `square_mm`.
pub fn awg_at_least(square_mm: f64) -> Option<i32> {
    let area = |n: i32| std::f64::consts::FRAC_PI_4 * awg_diameter_mm(n) * awg_diameter_mm(n);
    (0..=30).rev().find(|n| area(*n) >= square_mm * 0.98)
}

/// Smallest wire that carries `fuse` amperes and loses at most `most` volts over `run` there and back at `current`.
pub fn choose(fuse: Q<Current>, current: Q<Current>, run: Q<Length>, most_volts: f64) -> Option<&'static Wire> {
    METRIC
        .iter()
        .find(|w| w.carries >= fuse.to_si() && current.to_si() * resistance(w, run).to_si() * 2.0 <= most_volts)
}

/// Resistance of one wire of this length.
pub fn resistance(wire: &Wire, length: Q<Length>) -> Q<Resistance> {
    Q::si(COPPER * length.to_si() / wire.square_mm)
}

/// The fuse for a continuous current: a quarter more, rounded up to one that is made (general fuse sizing guides).
pub fn fuse_for(continuous: Q<Current>) -> Option<Q<Current>> {
    let least = (crate::formulas::spinner::FUSE.code)([continuous.to_si()]);
    (least > 0.0).then(|| FUSES.iter().find(|f| **f >= least - 1e-9).map(|f| Q::si(*f)))?
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{AMP, M};

    /// Published fuse guides (`fuse-guides`): 10 A continuous takes 12.5 A, so a 15 A fuse.
    #[test]
    fn published_fuse() {
        assert_eq!(fuse_for(Q::new(10.0, &AMP)).unwrap().get(&AMP), 15.0);
        assert!(fuse_for(Q::si(0.0)).is_none());
        assert!(fuse_for(Q::si(f64::NAN)).is_none());
        assert!(fuse_for(Q::si(1e3)).is_none());
    }

    /// AWG 36 is 0.127 mm and 0000 is 11.684 mm by definition; AWG 18 is 1.024 mm (0.0403 in, ASTM B258).
    #[test]
    fn gauge_sizes() {
        assert!((awg_diameter_mm(36) - 0.127).abs() < 1e-12);
        assert!((awg_diameter_mm(18) - 0.0403 * 25.4).abs() < 0.001);
        assert_eq!(awg_at_least(0.75), Some(18));
    }

    #[test]
    fn thin_wire_over_a_long_run_is_passed_over() {
        let near = choose(Q::new(5.0, &AMP), Q::new(4.0, &AMP), Q::new(0.5, &M), 0.5).unwrap();
        let far = choose(Q::new(5.0, &AMP), Q::new(4.0, &AMP), Q::new(5.0, &M), 0.5).unwrap();
        assert_eq!(near.name, "0.5 mm2");
        assert!(far.square_mm > near.square_mm);
    }
}
