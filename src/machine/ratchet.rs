//! Ratchet wheel and pawl: outlines for saw, laser or printer, forces, and the step against what the warp can take.
//!
//! The holding face of a tooth leans back by [`UNDERCUT`] so that the load pulls the pawl in. Millimetres.

use crate::machine::Refusal;
use crate::machine::shape::{Outline, circle};
use std::f64::consts::{PI, TAU};

/// Lean of the holding face, degrees: more than the friction angle of wood on wood needs nothing to keep it in (common practice,
/// no source; friction angle about 15 degrees dry, so the lean only has to be positive once a spring or weight holds it).
pub const UNDERCUT: f64 = 8.0;

/// Sizes of a wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    pub teeth: u32,
    /// Over the tips.
    pub diameter: f64,
    /// The beam's end goes through it.
    pub bore: f64,
    pub thick: f64,
    /// Pawls set between each other's teeth.
    pub pawls: u32,
}

/// Depth of a tooth: a third of the pitch, 2 mm at least where the pitch allows.
pub fn depth(wheel: &Wheel) -> f64 {
    let pitch = PI * wheel.diameter / f64::from(wheel.teeth);
    (pitch * 0.55).min((pitch / 3.0).max(2.0))
}

/// The wheel's outline, anticlockwise, axis at the origin. The holding faces look anticlockwise: a
/// load that turns the wheel anticlockwise is held.
///
/// # Errors
/// Teeth too fine to saw or print, or a bore that leaves no rim.
pub fn wheel(wheel: &Wheel) -> Result<Outline, Refusal> {
    let n = wheel.teeth;
    let refuse = |words: String| Err(Refusal::new("ratchet", words));
    if !(6..=120).contains(&n) || !(1..=4).contains(&wheel.pawls) {
        return refuse(format!("{n} teeth and {} pawls: 6 to 120 teeth, 1 to 4 pawls", wheel.pawls));
    }
    let pitch = PI * wheel.diameter / f64::from(n);
    if !(pitch >= 4.0 && wheel.diameter <= 400.0) {
        return refuse(format!(
            "{n} teeth on {} mm are {pitch:.1} mm apart: below 4 mm they break; a larger wheel, fewer teeth with more pawls, or a friction brake",
            wheel.diameter
        ));
    }
    let root = wheel.diameter / 2.0 - depth(wheel);
    let rim = root - wheel.bore / 2.0;
    if !(rim >= 6.0 && wheel.bore >= 0.0) {
        return refuse(format!("a bore of {} mm leaves {rim:.1} mm of rim under the teeth; 6 mm at least", wheel.bore));
    }
    let mut outer = Vec::with_capacity(4 * n as usize);
    let tip = wheel.diameter / 2.0;
    let lean = (depth(wheel) * libm::tan(UNDERCUT * PI / 180.0)) / root;
    for i in 0..n {
        let at = TAU * f64::from(i) / f64::from(n);
        let step = TAU / f64::from(n);
        let on = |r: f64, a: f64| [r * libm::cos(a), r * libm::sin(a)];
        // Tip, then down the holding face to the root, then up the back to the next tip.
        outer.push(on(tip, at));
        outer.push(on(root, at - lean));
        outer.push(on(root + (tip - root) * 0.06, at - lean + step * 0.12));
        outer.push(on(tip, at + step * 0.93));
    }
    let holes = if wheel.bore > 0.0 { vec![circle([0.0, 0.0], wheel.bore / 2.0, 72)] } else { Vec::new() };
    Ok(Outline { outer, holes })
}

/// A pawl: a bar on a pivot whose nose lies in a tooth. Pivot at the origin, nose along x.
///
/// # Errors
/// A pawl too short for its pivot.
pub fn pawl(length: f64, nose: f64, pivot: f64) -> Result<Outline, Refusal> {
    if !(length >= 4.0 * pivot && pivot >= 3.0 && nose > 0.5 && length <= 300.0) {
        return Err(Refusal::new(
            "ratchet",
            format!("a pawl {length} mm long on a {pivot} mm pivot: at least four pivots long"),
        ));
    }
    let high = (2.2 * pivot).max(12.0);
    let r = high / 2.0;
    let mut outer: Vec<[f64; 2]> = crate::machine::shape::arc([0.0, 0.0], r, PI / 2.0, 1.5 * PI, 24, true);
    outer.extend([[length * 0.62, -r], [length, -r * 0.45], [length, -r * 0.45 + nose], [length * 0.62, r]]);
    Ok(Outline { outer, holes: vec![circle([0.0, 0.0], pivot / 2.0 + 0.1, 40)] })
}

/// What a wheel does under a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// On one tooth, N.
    pub tooth: f64,
    /// Shear in the tooth's root, N/mm².
    pub shear: f64,
    /// Pressure of the pawl's pivot in its hole, N/mm².
    pub pivot: f64,
    /// Cloth let through by one step, mm.
    pub step: f64,
    /// The same as a share of the free warp, per cent.
    pub step_strain: f64,
}

/// Forces and steps: `load` N of warp on a roll of `roll` mm, `free` mm of warp between the beams, pivot of `pivot` mm.
pub fn hold(w: &Wheel, load: f64, roll: f64, free: f64, pivot: f64) -> Hold {
    use crate::formulas::loom as f;
    let pitch_circle = w.diameter - depth(w);
    let tooth = (f::PAWL_FORCE.code)([load, roll, pitch_circle]);
    let step = (f::RATCHET_STEP.code)([roll, f64::from(w.teeth), f64::from(w.pawls)]);
    let root_length = PI * (w.diameter - 2.0 * depth(w)) / f64::from(w.teeth) * 0.8;
    Hold {
        tooth,
        shear: 1.5 * tooth / (root_length * w.thick),
        pivot: tooth / (pivot * w.thick),
        step,
        step_strain: (f::STEP_STRAIN.code)([step, free, 0.0]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machine::shape::mesh::Mesh;

    fn tern_bay() -> Wheel {
        Wheel { teeth: 36, diameter: 110.0, bore: 25.0, thick: 12.0, pawls: 2 }
    }

    #[test]
    fn wheel_and_pawl_are_closed() {
        let outline = wheel(&tern_bay()).unwrap();
        let proof = Mesh::plate(&outline, 0.0, 12.0).unwrap().prove().unwrap();
        assert!((proof.volume - 12.0 * outline.area()).abs() < 1.0);
        assert_eq!(proof.handles, 1);
        let pawl = pawl(60.0, 4.0, 6.0).unwrap();
        let proof = Mesh::plate(&pawl, 0.0, 12.0).unwrap().prove().unwrap();
        assert!((proof.volume - 12.0 * pawl.area()).abs() < 0.5);
    }

    /// The holding face overhangs: its tip lies further round than its root, so the pawl's nose is drawn in.
    #[test]
    fn the_face_leans_back() {
        let outline = wheel(&tern_bay()).unwrap();
        let angle = |p: [f64; 2]| libm::atan2(p[1], p[0]);
        assert!(angle(outline.outer[1]) < angle(outline.outer[0]));
        let radius = |p: [f64; 2]| libm::hypot(p[0], p[1]);
        assert!(radius(outline.outer[0]) > radius(outline.outer[1]) + 2.0);
    }

    /// The practitioner's figures: 36 teeth, 2 pawls on a bare 45 mm beam: 1.96 mm, 0.34 % of 570 mm; 12 teeth on 40 mm let
    /// 10 mm through. Statics: 700 N on a 38 mm beam is 332 N at 80 mm.
    #[test]
    fn steps_and_forces() {
        let h = hold(&tern_bay(), 241.0, 45.0, 570.0, 6.0);
        assert!((h.step - 1.96).abs() < 0.005 && (h.step_strain - 0.344).abs() < 0.001, "{h:?}");
        let coarse = Wheel { teeth: 12, pawls: 1, ..tern_bay() };
        assert!((hold(&coarse, 241.0, 40.0, 570.0, 6.0).step - 10.47).abs() < 0.01);
        assert!((crate::formulas::loom::PAWL_FORCE.code)([700.0, 38.0, 80.0]) - 332.5 < 1e-9);
    }

    #[test]
    fn fine_teeth_and_wide_bores_are_refused() {
        assert!(wheel(&Wheel { teeth: 100, ..tern_bay() }).unwrap_err().to_string().contains("below 4 mm they break"));
        assert!(wheel(&Wheel { bore: 100.0, ..tern_bay() }).unwrap_err().to_string().contains("rim"));
        assert!(wheel(&Wheel { teeth: 0, ..tern_bay() }).is_err());
        assert!(pawl(10.0, 3.0, 6.0).is_err());
    }
}
