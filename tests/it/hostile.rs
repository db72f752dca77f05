//! Whatever a plan says within what its keys take, and beyond: figures or diagnostics, never a panic, and never a number that is none.
//! Takes about half a minute in the development profile.

#![expect(clippy::disallowed_methods, reason = "a spread of test values")]

use crate::scene::source;
use clothwright::chain::decide::decide;
use clothwright::outlook::{json, work_up};
use clothwright::plan::keys::{TABLE, Takes};
use clothwright::plan::{edit, read};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// A key that takes a quantity, and a number in its range: often an end, else anywhere on a scale of factors.
fn change() -> impl Strategy<Value = (String, String)> {
    let keys: Vec<(&'static str, &'static str, f64, f64)> = TABLE
        .keys
        .iter()
        .filter(|key| !key.path.contains("[]"))
        .filter_map(|key| match &key.takes {
            Takes::Quantity { spans, .. } => spans.first().map(|span| (key.path, span.unit, span.low, span.high)),
            _ => None,
        })
        .collect();
    (0..keys.len(), 0.0..1.4f64).prop_map(move |(at, place)| {
        let (path, unit, low, high) = keys[at];
        let value = match place {
            place if place < 0.2 => low,
            place if place < 0.4 => high,
            place if low > 0.0 => low * (high / low).powf(place - 0.4),
            place => low + (high - low) * (place - 0.4),
        };
        (path.to_string(), format!("{value} {unit}"))
    })
}

/// Works a plan out; an error is an answer too. Panics on a number that is none.
fn answered(text: &str, files: &clothwright::plan::Files) -> bool {
    let (plan, found) = read(text, files);
    let Some(plan) = plan else {
        assert!(!found.is_empty(), "a plan that is refused is refused for a reason");
        return false;
    };
    let Ok(brief) = decide(&plan) else { return false };
    let outcome = json::outcome(&work_up(brief, 64));
    let values = outcome["values"].as_object().expect("values");
    for (id, value) in values {
        for part in ["value", "low", "high", "safe"] {
            assert!(value[part].is_null() || value[part].as_f64().is_some_and(f64::is_finite), "{id}: {value}");
        }
        assert!(value["value"].is_number(), "{id}: {value}");
    }
    true
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, max_shrink_iters: 40, failure_persistence: None, rng_seed: RngSeed::Fixed(11), ..ProptestConfig::default() })]

    #[test]
    fn any_values_of_a_towel(changes in prop::collection::vec(change(), 1..6)) {
        let (mut text, files) = source("tern-bay-towel.toml");
        for (path, typed) in &changes {
            // a value that clashes with another key is refused by the edit's own reading: that is an answer
            if let Ok(edited) = edit::set(&text, path, typed) {
                text = edited.text;
            }
        }
        answered(&text, &files);
    }
}

#[test]
fn a_plan_with_almost_nothing_is_still_worked_out() {
    let files = clothwright::plan::Files::default();
    for kind in [
        "upland cotton",
        "sea island cotton",
        "brown cotton",
        "fine wool",
        "medium wool",
        "coarse wool",
        "flax line",
        "flax tow",
    ] {
        let text =
            format!("[fibre]\nkind = \"{kind}\"\n[garment]\nkind = \"tee\"\nbody = {{ start = \"women p50\" }}\n");
        assert!(answered(&text, &files), "{kind}");
    }
    for article in ["towel", "scarf", "tote", "apron"] {
        let text = format!(
            "[fibre]\nkind = \"upland cotton\"\n[garment]\nkind = \"{article}\"\nfinished = {{ width = \"40 cm\", length = \"70 cm\" }}\n"
        );
        assert!(answered(&text, &files), "{article}");
    }
}

#[test]
fn five_mistakes_are_told_at_once() {
    let text = "title = \"x\"\n[fibre]\nkind = \"upland coton\"\nlosses = { ginning_keeps = \"140 %\" }\n[cloth]\nmas = \"185 g/m2\"\n\
                firmness = 70\n[garment]\nkind = \"tee\"\nbody = { chest = \"98 kg\" }\n";
    let (plan, found) = read(text, &clothwright::plan::Files::default());
    assert!(plan.is_none());
    assert!(found.iter().filter(|fault| fault.is_error()).count() >= 5, "{found:#?}");
    assert!(found.iter().all(|fault| fault.span.is_some() && fault.message.len() > 10), "{found:#?}");
}
