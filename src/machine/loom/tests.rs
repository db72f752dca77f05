use super::*;
use crate::machine::heddle;
use crate::units::CM;

pub(crate) fn tern_bay() -> LoomWish {
    LoomWish {
        weaving_width: Q::new(72.0, &CM),
        ends: 908,
        width_in_reed: Q::new(70.0, &CM),
        fell_to_heddle: Q::new(15.0, &CM),
        heddle_to_back: Q::new(42.0, &CM),
        lift: Q::new(25.0, &MM),
        shuttle_height: Q::new(12.0, &MM),
        shuttle_width: Q::new(28.0, &MM),
        shuttle_length: None,
        section: Section::Round,
        beam: Some(Q::new(45.0, &MM)),
        span: Some(Q::new(80.0, &CM)),
        teeth: 36,
        pawls: 2,
        wheel: None,
        timber: Timber::find("beech").unwrap(),
        system: System::Metric,
        tension: Q::new(241.0, &N),
        peak: Q::new(602.0, &N),
        strain: 0.0033,
        warp_length: Q::new(2.98, &M),
        layer: Q::new(0.9, &MM),
        heddle: heddle::work_out(&heddle::tests::tern_bay()).unwrap(),
        stands: Stands::Floor,
        stiffening: Stiffening::Brace,
        height: None,
        sitter: Sitter::default(),
    }
}

fn finding<'a>(loom: &'a Loom, what: &str) -> &'a Finding {
    loom.findings.iter().find(|f| f.what.contains(what)).unwrap_or_else(|| panic!("no finding {what:?}"))
}

/// The practitioner's figures: 45 mm beech bows 0.75 mm; half the warp's stretch is 0.93 mm; a 40 mm beam (1.20) fails.
#[test]
fn tern_bay_holds() {
    let loom = design(&tern_bay()).unwrap();
    let failed: Vec<_> = loom.failed().map(|f| (f.what, f.value, f.limit)).collect();
    assert!(failed.is_empty(), "{failed:?}");
    let bow = finding(&loom, "bow of the beam");
    assert!((bow.value - 0.75).abs() < 0.02 && (bow.limit - 0.94).abs() < 0.02, "{bow:?}");
    let thin = design(&LoomWish { beam: Some(Q::new(40.0, &MM)), ..tern_bay() }).unwrap();
    assert!((finding(&thin, "bow of the beam").value - 1.20).abs() < 0.03);
    assert!(thin.failed().any(|f| f.what.contains("bow of the beam")));
}

#[test]
fn the_thinnest_beam_is_found() {
    let open = design(&LoomWish { beam: None, ..tern_bay() }).unwrap();
    assert_eq!(open.layout.beam, 45.0);
    let heavy = LoomWish { beam: None, tension: Q::new(3000.0, &N), peak: Q::new(9000.0, &N), ..tern_bay() };
    assert!(design(&heavy).unwrap_err().to_string().contains("steel tube"));
}

/// A beam like a toothpick: a clear failure with its number, not a refusal without one.
#[test]
fn a_toothpick_beam_fails_with_its_number() {
    let loom = design(&LoomWish { beam: Some(Q::new(8.0, &MM)), ..tern_bay() }).unwrap();
    let bow = finding(&loom, "bow of the beam");
    assert!(!bow.passes && bow.value > 500.0);
    assert!(design(&LoomWish { beam: Some(Q::new(0.0, &MM)), ..tern_bay() }).is_err());
}

#[test]
fn a_steel_tube_is_stiffer_than_beech() {
    let tube = LoomWish {
        section: Section::Tube { wall: Q::new(1.5, &MM) },
        beam: Some(Q::new(35.0, &MM)),
        timber: Timber::find("steel").unwrap(),
        ..tern_bay()
    };
    let loom = design(&tube).unwrap();
    assert!(finding(&loom, "bow of the beam").value < 0.5);
    assert!(loom.part("A1").unwrap().of != "steel tube" && loom.part("B1").unwrap().of == "steel tube");
}

/// Crossed braces beat a shelf, a shelf beats bare bolts.
#[test]
fn braces_stiffen() {
    let loom = design(&tern_bay()).unwrap();
    let [(_, bare), (_, shelf), (_, brace)] = structure::leans(&loom);
    assert!(bare > 1.5 * shelf && shelf > brace && bare < 20.0, "{bare} {shelf} {brace}");
}

#[test]
fn every_mark_is_one_part_and_joints_name_parts() {
    for stands in [Stands::Floor, Stands::Table] {
        for stiffening in [Stiffening::Bare, Stiffening::Shelf, Stiffening::Brace] {
            for system in [System::Metric, System::Inch] {
                let loom = design(&LoomWish { stands, stiffening, system, ..tern_bay() }).unwrap();
                let mut marks: Vec<&str> = loom.parts.iter().map(|p| p.mark.as_str()).collect();
                marks.sort_unstable();
                let before = marks.len();
                marks.dedup();
                assert_eq!(marks.len(), before);
                for joint in &loom.joints {
                    for mark in [joint.between.0, joint.between.1] {
                        assert!(loom.part(mark).is_some(), "{mark} in {stands:?} {stiffening:?}");
                    }
                }
                for part in loom.steps.iter().flat_map(|s| &s.parts) {
                    assert!(loom.part(part).is_some(), "{part}");
                }
            }
        }
    }
}

/// The beam carries the warp through both rails and still shows the ratchet outside.
#[test]
fn lengths_follow_the_layout() {
    let loom = design(&tern_bay()).unwrap();
    let l = &loom.layout;
    let beam = loom.part("B1").unwrap().length().unwrap();
    assert!(beam >= l.span + 2.0 * (l.rail_thick + l.leg_thick) + loom.wheel.thick);
    assert_eq!(loom.part("B3").unwrap().length().unwrap(), l.wide);
    assert!(l.cloth_beam.0 < l.heddles[0] && l.warp_beam.0 < l.back);
    let kg = parts::mass(&loom).get(&crate::units::KG);
    assert!((8.0..60.0).contains(&kg), "{kg}");
}

#[test]
fn nonsense_is_refused() {
    let words = |w: LoomWish| design(&w).unwrap_err().to_string();
    assert!(words(LoomWish { tension: Q::new(-1.0, &N), ..tern_bay() }).contains("warp tension of -1"));
    assert!(words(LoomWish { width_in_reed: Q::new(90.0, &CM), ..tern_bay() }).contains("warp of 900"));
    assert!(words(LoomWish { lift: Q::new(f64::NAN, &MM), ..tern_bay() }).contains("lift"));
    assert!(words(LoomWish { warp_length: Q::new(60.0, &M), ..tern_bay() }).contains("full roll"));
    assert!(words(LoomWish { teeth: 0, ..tern_bay() }).contains("teeth"));
}
