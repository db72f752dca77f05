//! `compare`: what differs between two plans, and what that changes.

use super::load::load;
use super::page::outcome;
use super::show::{HEAD, inked};
use super::{Answer, Ending, Format, pretty};
use crate::chain::decide::inputs::How;
use crate::chain::keys::{ALL, IDS};
use crate::diag::show::Look;
use crate::outlook::Outcome;
use crate::plan::Plan;
use crate::units::show;
use std::path::Path;

/// Changes below this share are not worth a line.
const WORTH: f64 = 0.001;

/// An id whose value differs.
struct Change {
    slot: u16,
    before: Option<f64>,
    after: Option<f64>,
}

/// The command.
pub fn compare(first: &Path, second: &Path, format: Format, look: Look) -> Answer {
    let (a, b) = (load(first, look)?.plan, load(second, look)?.plan);
    let (before, after) = (outcome(first, 0, look)?, outcome(second, 0, look)?);
    let keys = a.differences(&b);
    let changes = changes(&before, &after);
    let text = match format {
        Format::Json => json(&a, &b, &keys, &changes, &before, &after),
        Format::Text => page(&a, &b, &keys, &changes, &before, &after),
    };
    Ok((text, Ending::Done))
}

/// Results that differ, inputs left out, the largest change first.
fn changes(before: &Outcome, after: &Outcome) -> Vec<Change> {
    let mut out: Vec<Change> = (0..IDS as u16)
        .filter(|slot| after.how(*slot) == How::Computed || after.how(*slot) == How::Decided)
        .map(|slot| Change { slot, before: before.numbers.si(slot), after: after.numbers.si(slot) })
        .filter(|change| share(change) > WORTH)
        .collect();
    out.sort_by(|a, b| share(b).total_cmp(&share(a)));
    out
}

/// How large a change is: the logarithm of the ratio; without end where one side is missing.
fn share(change: &Change) -> f64 {
    match (change.before, change.after) {
        (None, None) => 0.0,
        (Some(a), Some(b)) if a == b => 0.0,
        (Some(a), Some(b)) if a > 0.0 && b > 0.0 => libm::log(b / a).abs(),
        _ => f64::INFINITY,
    }
}

fn page(a: &Plan, b: &Plan, keys: &[&str], changes: &[Change], before: &Outcome, after: &Outcome) -> String {
    let mut out = format!("{}\n", inked(HEAD, "What differs in the plans"));
    for key in keys {
        let typed = |plan: &Plan| plan_text(plan, key);
        out += &format!("  {key:32} {:>24}  ->  {}\n", typed(a), typed(b));
    }
    if keys.is_empty() {
        out += "  nothing\n";
    }
    out += &format!("\n{}\n", inked(HEAD, "What that changes, the most first"));
    for change in changes.iter().take(40) {
        let key = &ALL[change.slot as usize];
        let text =
            |value: Option<f64>| value.map_or("–".into(), |si| show::quantity(si, &key.unit, after.brief.style));
        let ratio = match (change.before, change.after) {
            (Some(a), Some(b)) if a != 0.0 => format!("{:+.1} %", (b / a - 1.0) * 100.0),
            _ => String::new(),
        };
        out += &format!("  {:32} {:>14}  ->  {:14} {ratio:>10}\n", key.name, text(change.before), text(change.after));
    }
    if changes.len() > 40 {
        out += &format!("  and {} more; --format json lists them all\n", changes.len() - 40);
    }
    out + &verdicts(before, after)
}

/// Checks that fail in one and not in the other.
fn verdicts(before: &Outcome, after: &Outcome) -> String {
    let codes = |outcome: &Outcome| -> Vec<&'static str> { outcome.verdicts.iter().map(|v| v.code).collect() };
    let (was, is) = (codes(before), codes(after));
    let mut out = String::new();
    for code in is.iter().filter(|code| !was.contains(code)) {
        out += &format!("  now fails: {code}\n");
    }
    for code in was.iter().filter(|code| !is.contains(code)) {
        out += &format!("  now passes: {code}\n");
    }
    if out.is_empty() { out } else { format!("\n{}\n{out}", inked(HEAD, "Checks")) }
}

/// What was typed at a key; many tables of one name are not shown.
fn plan_text(plan: &Plan, key: &str) -> String {
    if key.contains("[]") {
        return "its tables".into();
    }
    plan.typed(key).unwrap_or("–").to_string()
}

fn json(a: &Plan, b: &Plan, keys: &[&str], changes: &[Change], before: &Outcome, after: &Outcome) -> String {
    let plans: Vec<_> = keys
        .iter()
        .map(|key| serde_json::json!({ "key": key, "first": plan_text(a, key), "second": plan_text(b, key) }))
        .collect();
    let values: Vec<_> = changes
        .iter()
        .map(|change| {
            let key = &ALL[change.slot as usize];
            let mut row = serde_json::json!({ "id": key.name, "unit": key.unit.name });
            for (name, value) in [("first", change.before), ("second", change.after)] {
                if let Some(si) = value {
                    row[name] = key.unit.scale.from_si(si).into();
                }
            }
            row
        })
        .collect();
    let codes = |outcome: &Outcome| -> Vec<&'static str> { outcome.verdicts.iter().map(|v| v.code).collect() };
    pretty(&serde_json::json!({
        "keys": plans, "values": values, "checks": { "first": codes(before), "second": codes(after) },
    }))
}
