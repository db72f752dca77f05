//! The shipped plans: five that work and four that fail for an instructive reason, with the mends that the reason has.

use crate::scene::{WORKING, outcome_of, source, with, worked};
use clothwright::chain::keys as id;
use clothwright::checks::{ALL, Severity, knobs::NEVER_RAISED};
use clothwright::draw::{of_plan, svg};
use clothwright::outlook::Outcome;
use clothwright::units::*;

fn codes(outcome: &Outcome, severity: Severity) -> Vec<&'static str> {
    outcome.verdicts.iter().filter(|v| v.severity == severity).map(|v| v.code).collect()
}

#[test]
fn plans_that_work_fail_no_check() {
    for name in WORKING {
        let outcome = worked(name, 0);
        let messages: Vec<&str> =
            outcome.verdicts.iter().filter(|v| v.severity < Severity::Note).map(|v| v.message.as_str()).collect();
        assert!(messages.is_empty(), "{name}: {messages:#?}");
    }
}

#[test]
fn a_coarse_heddle_makes_sacking_and_only_a_pair_mends_it() {
    let outcome = worked("failing/heddle-too-coarse.toml", 0);
    let heavy = outcome.verdicts.iter().find(|v| v.code == "cloth-too-heavy").expect("sacking");
    assert!(outcome.get(&id::CLOTH_MASS).expect("a mass").get(&G_M2) > 400.0);
    let mend = heavy.mends.first().expect("a pair");
    assert_eq!(mend.moves.len(), 2, "{mend:?}");
    assert!(mend.moves.iter().any(|m| m.knob.path == "loom.heddle.heddles" && m.to >= 2.0), "{mend:?}");
}

#[test]
fn a_toy_motor_is_too_slow_for_fine_cotton() {
    let outcome = worked("failing/motor-too-weak.toml", 0);
    let slow = outcome.verdicts.iter().find(|v| v.code == "motor-too-slow").expect("too slow");
    assert!(!slow.mends.is_empty(), "{}", slow.message);
}

#[test]
fn a_supply_above_the_rating_fails_and_its_mend_lowers_it() {
    let outcome = worked("failing/supply-above-rating.toml", 0);
    let above = outcome.verdicts.iter().find(|v| v.code == "supply-above-rating").expect("above the rating");
    assert_eq!(above.severity, Severity::Fail);
    for mend in &above.mends {
        for m in &mend.moves {
            assert!(m.knob.path != "spinner.supply.voltage" || m.to < m.from, "{mend:?}");
        }
    }
}

#[test]
fn a_short_skein_does_not_reach() {
    let outcome = worked("failing/not-enough-warp.toml", 0);
    assert_eq!(codes(&outcome, Severity::Fail), ["fibre-too-little"]);
    assert!(!outcome.verdicts[0].mends.is_empty());
}

#[test]
fn no_mend_of_any_plan_raises_what_can_hurt() {
    let failing = ["heddle-too-coarse", "motor-too-weak", "supply-above-rating", "not-enough-warp"];
    for name in failing {
        let outcome = worked(&format!("failing/{name}.toml"), 0);
        for mend in outcome.verdicts.iter().flat_map(|v| &v.mends) {
            for m in &mend.moves {
                let name = id::ALL[m.knob.slot as usize].name;
                assert!(!NEVER_RAISED.contains(&name) || m.to <= m.from, "{mend:?}");
            }
        }
    }
}

/// A mend written into the plan mends: the loop a person goes through.
#[test]
fn a_mend_written_into_the_plan_passes() {
    let (text, files) = source("tern-bay-tee.toml");
    let text = with(&text, "lift = \"25 mm\"", "lift = \"18 mm\"");
    let outcome = outcome_of(&text, &files, 0);
    let shuttle = outcome.verdicts.iter().find(|v| v.code == "shuttle-does-not-fit").expect("a shed too low");
    for mend in &shuttle.mends {
        let mut mended = text.clone();
        for m in &mend.moves {
            let unit = id::ALL[m.knob.slot as usize].unit.name;
            mended = clothwright::plan::edit::set(&mended, m.knob.path, &format!("{:.3} {unit}", m.to))
                .expect("an edit")
                .text;
        }
        let after = outcome_of(&mended, &files, 0);
        assert!(
            after.verdicts.iter().all(|v| v.severity != Severity::Fail),
            "{mend:?}: {:?}",
            codes(&after, Severity::Fail)
        );
    }
    assert!(!shuttle.mends.is_empty());
}

/// The same plan in inches is the same outcome.
#[test]
fn units_of_the_plan_do_not_matter() {
    let (text, files) = source("tern-bay-tee.toml");
    let metric = outcome_of(&text, &files, 0);
    let mut inches = text;
    for (from, to) in [
        ("mass = \"185 g/m2\"", "mass = \"5.456 oz/yd2\""),
        ("weaving_width = \"72 cm\"", "weaving_width = \"28 44/127 in\""),
        ("pace = \"2.0 m/min\"", "pace = \"131.2336 yd/h\""),
    ] {
        inches = with(&inches, from, to);
    }
    let inches = outcome_of(&inches, &files, 0);
    for (slot, key, si) in metric.values() {
        let other = inches.numbers.si(slot).expect(key.name);
        assert!((other - si).abs() <= 2e-3 * si.abs().max(1e-12), "{}: {si} and {other}", key.name);
    }
}

/// Margins have a meaning: each check can fail, and each can pass.
#[test]
fn every_check_speaks_on_some_plan() {
    let mut applied = vec![false; ALL.len()];
    for name in WORKING.iter().copied().chain(["failing/heddle-too-coarse.toml", "failing/motor-too-weak.toml"]) {
        let outcome = worked(name, 0);
        for (at, check) in ALL.iter().enumerate() {
            let spoke = outcome.passed.iter().any(|c| c.code == check.code)
                || outcome.verdicts.iter().any(|v| v.code == check.code);
            applied[at] |= spoke;
        }
    }
    let silent: Vec<&str> = ALL.iter().zip(&applied).filter(|(_, spoke)| !**spoke).map(|(c, _)| c.code).collect();
    // the first speaks only where adding would fit, the other only with an artwork whose lines were measured
    let expected = ["percentages-added", "line-too-fine"];
    assert!(silent.iter().all(|code| expected.contains(code)), "{silent:?}");
}

#[test]
fn towels_woven_apart_take_the_gaps_of_warp_and_nothing_else() {
    let (text, files) = source("tern-bay-towel.toml");
    let one = outcome_of(&text, &files, 0);
    let apart = outcome_of(&format!("{text}\n[warp]\nbetween = \"6 cm\"\n"), &files, 0);
    let value = |outcome: &Outcome, key| outcome.get(key).expect("a length").get(&CM);
    let longer = value(&apart, &id::WARP_LENGTH) - value(&one, &id::WARP_LENGTH);
    assert!((longer - 12.0).abs() < 1e-6, "two gaps of 6 cm between three towels: {longer}");
    assert_eq!(value(&apart, &id::WARP_UNWOVEN), 12.0);
    assert_eq!(apart.get(&id::PICKS), one.get(&id::PICKS));
    let sheets = clothwright::draw::of_plan::sheets(&apart, "warping").expect("drawn");
    let words = format!("{sheets:?}");
    assert!(words.contains("begin towel 1") && words.contains("end towel 3"));
    let (text, files) = source("tern-bay-tee.toml");
    let plan = crate::scene::plan_of(&format!("{text}\n[warp]\nbetween = \"6 cm\"\n"), &files);
    let brief = clothwright::chain::decide::decide(&plan).expect("it is settled");
    assert!(brief.noticed.iter().any(|found| found.code == "one-length"));
}

/// Keys that state small things are heard: each changes just what it is about.
#[test]
fn small_keys_are_heard() {
    let (text, files) = source("tern-bay-tee.toml");
    let plain = outcome_of(&text, &files, 0);
    let said = |key: &str| outcome_of(&format!("{key}\n{text}"), &files, 0);
    assert!(plain.get(&id::WEEKS).is_none(), "no weeks without hours a week");
    let weekly = said("hours.per_week = \"10 h\"");
    let (weeks, hours) = (weekly.get(&id::WEEKS).expect("weeks"), weekly.get(&id::TOTAL_HOURS).expect("hours"));
    assert!((weeks.to_si() - hours.get(&HOUR) / 10.0).abs() < 1e-9);
    let words = |outcome: &Outcome, drawing: &str| {
        let sheets = of_plan::sheets(outcome, drawing).expect("a sheet");
        sheets.iter().map(svg::inline).collect::<String>()
    };
    let dressed = outcome_of(&with(&text, "[yarn.warp]\n", "[yarn.warp]\ndressing = \"starch\"\n"), &files, 0);
    assert!(words(&dressed, "warping").contains("starch") && !words(&plain, "warping").contains("starch"));
    let shuttle =
        outcome_of(&with(&text, "width = \"28 mm\" }", "width = \"28 mm\", length = \"31.7 cm\" }"), &files, 0);
    assert!(words(&shuttle, "cuts").contains("317") && !words(&plain, "cuts").contains("317"));
    let weak = outcome_of(
        &with(&text, "resistance = \"5.0 ohm\"", "resistance = \"5.0 ohm\", continuous_current = \"0.05 A\""),
        &files,
        0,
    );
    assert!(codes(&weak, Severity::Fail).contains(&"motor-overheats"));
}
