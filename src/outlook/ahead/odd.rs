//! What does not look like the rest, as soon as it starts: a bobbin, the picks, the twist, the use of weft, a stage's loss, the pace.

use crate::measure::samples::Samples;
use crate::measure::watch::{Watched, drift_words, watch};
use crate::units::*;

/// One list of readings that is watched, and its words.
struct Watch {
    what: &'static str,
    up: &'static str,
    down: &'static str,
    seen: Watched,
    /// Name of each reading.
    names: Vec<String>,
}

/// Everything odd, a sentence each.
pub fn odd(samples: &Samples) -> Vec<String> {
    watches(samples).iter().flat_map(|watch| said(watch, |_| true)).collect()
}

/// What the last reading of each list brought up: to be told as it is written down.
pub fn odd_lately(samples: &Samples) -> Vec<String> {
    watches(samples).iter().flat_map(|watch| said(watch, |at| at + 1 == watch.names.len())).collect()
}

fn said(watch: &Watch, tells: impl Fn(usize) -> bool) -> Vec<String> {
    let odd = watch.seen.odd.iter().filter(|at| tells(**at));
    let mut out: Vec<String> =
        odd.map(|at| format!("{} is not like the others before it.", watch.names[*at])).collect();
    let drifts = watch.seen.drifts.iter().filter(|drift| tells(drift.noticed));
    out.extend(drifts.map(|drift| drift_words(drift, watch.what, watch.up, watch.down)));
    out
}

fn watches(s: &Samples) -> Vec<Watch> {
    let mut all = vec![
        Watch {
            what: "yarn, bobbin by bobbin",
            up: "thicker",
            down: "finer",
            seen: watch(&s.bobbins.iter().map(|bobbin| bobbin.count).collect::<Vec<_>>(), Q::new(1.0, &TEX), 20),
            names: s.bobbins.iter().map(|bobbin| format!("Bobbin {}", bobbin.name)).collect(),
        },
        Watch {
            what: "picks",
            up: "closer",
            down: "more open",
            seen: watch(&s.picks, Q::new(0.1, &PER_CM), 25),
            names: (1..=s.picks.len()).map(|at| format!("Picks check {at}")).collect(),
        },
        Watch {
            what: "weft to a length of cloth",
            up: "more",
            down: "less",
            seen: watch(&used(s), Q::si(0.0), 25),
            names: (1..=s.used.len()).map(|at| format!("Weft weighing {}", at + 1)).collect(),
        },
    ];
    for (stage, batches) in &s.batches {
        let kept: Vec<Q<Ratio>> =
            batches.iter().filter(|b| b.before.to_si() > 0.0).map(|b| Q::si(b.after / b.before)).collect();
        all.push(Watch {
            what: "share kept in preparing",
            up: "more",
            down: "less",
            names: (1..=kept.len()).map(|at| format!("Batch {at} of {stage}")).collect(),
            seen: watch(&kept, Q::si(0.002), 25),
        });
    }
    all
}

fn used(s: &Samples) -> Vec<Q<LinearDensity>> {
    s.used.iter().map(|used| Q::si(used.weft.to_si() / used.woven.to_si())).collect()
}
