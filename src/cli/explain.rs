//! `explain`: why a number is what it is.

use super::page::{Asked, WithLog, outcome_as};
use super::{Answer, Ending, Format, pretty};
use crate::chain::keys::{ALL, slot};
use crate::diag::{near, show::Look};
use crate::outlook::explain::{self, Explanation};
use crate::outlook::trials::FEW;
use std::path::Path;

/// The command. Id and plan come in either order.
pub fn explain(first: &str, second: &str, log: WithLog, format: Format, look: Look) -> Answer {
    let (name, path) =
        if slot(second).is_some() || first.ends_with(".toml") { (second, first) } else { (first, second) };
    let Some(slot) = slot(name) else { return Err(unknown(name)) };
    let outcome = outcome_as(Path::new(path), Asked { trials: FEW, log, ..Asked::default() }, look)?;
    let Some(found) = explain::explain(&outcome, slot) else {
        return Err(format!("`{name}` ({}) is not part of this plan.", ALL[slot as usize].says.trim_end_matches('.')));
    };
    let text = match format {
        Format::Text => explain::page(&found),
        Format::Json => pretty(&json(&found)),
    };
    Ok((text, Ending::Done))
}

fn unknown(name: &str) -> String {
    let ids = ALL.iter().map(|key| key.name);
    match near(name, ids) {
        Some(close) => format!("`{name}` is no id of the outcome; did you mean `{close}`?"),
        None => format!("`{name}` is no id of the outcome; `clothwright schema` lists them all."),
    }
}

fn json(e: &Explanation) -> serde_json::Value {
    let letters: Vec<_> = e
        .letters
        .iter()
        .map(|l| serde_json::json!({ "letter": l.letter, "name": l.name, "id": l.is_id, "value": l.value }))
        .collect();
    let source = e.source.as_ref().map(|(source, evidence)| {
        serde_json::json!({ "key": source.key, "at": source.at, "evidence": evidence.words(), "what": crate::formulas::sources::title(source.key) })
    });
    let mut out = serde_json::json!({
        "id": e.id, "says": e.says, "value": e.value, "how": e.how.word(), "why": e.why, "inputs": letters, "feeds": e.feeds,
    });
    let mut put = |key: &str, value: Option<serde_json::Value>| {
        if let Some(value) = value {
            out[key] = value;
        }
    };
    put("range", e.range.clone().map(Into::into));
    put("safe", e.safe.clone().map(Into::into));
    put("equation", e.equation.clone().map(Into::into));
    put("worked", e.worked.clone().map(Into::into));
    put("formula", e.formula.map(Into::into));
    put("source", source);
    out
}
