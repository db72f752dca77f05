//! The outcome as JSON, and its schema. Ids are stable; a number that does not exist is left out, never null.

use super::outcome::{Outcome, Verdict};
use crate::chain::keys::{ALL, IDS};
use crate::checks::mend::Mend;
use serde_json::{Map, Value, json};

/// The outcome.
pub fn outcome(outcome: &Outcome) -> Value {
    let mut values = Map::new();
    outcome.make_spreads(&outcome.values().map(|(slot, ..)| slot).collect::<Vec<_>>());
    for (slot, key, si) in outcome.values() {
        values.insert(key.name.to_string(), value(outcome, slot, si));
    }
    let article = &outcome.brief.article;
    let pieces: Vec<Value> = article
        .garment
        .pieces
        .iter()
        .map(|piece| {
            json!({
                "name": piece.name, "how_many": piece.how_many,
                "width": rounded(piece.width() / 10.0), "length": rounded(piece.length() / 10.0), "unit": "cm",
                "area": rounded(piece.area() / 100.0), "area_unit": "cm2",
            })
        })
        .collect();
    let mut out = json!({
        "title": outcome.brief.title,
        "fibre": outcome.brief.fibre,
        "weave": outcome.brief.woven.name,
        "values": values,
        "checks": outcome.verdicts.iter().map(verdict).collect::<Vec<_>>(),
        "passed": outcome.passed.iter().map(|check| check.code).collect::<Vec<_>>(),
        "pieces": pieces,
    });
    if let Some(ahead) = &outcome.ahead {
        out["log"] = super::ahead::json(ahead);
    }
    out
}

/// One value: number, unit, range, how it came about, and who says so where it is assumed.
fn value(outcome: &Outcome, slot: u16, si: f64) -> Value {
    let unit = ALL[slot as usize].unit;
    let mut out = Map::new();
    out.insert("value".into(), json!(rounded(unit.scale.from_si(si))));
    out.insert("unit".into(), json!(unit.name));
    if let Some(spread) = outcome.spread(slot) {
        let (a, b) = (unit.scale.from_si(spread.low), unit.scale.from_si(spread.high));
        out.insert("low".into(), json!(rounded(a.min(b))));
        out.insert("high".into(), json!(rounded(a.max(b))));
    }
    if let Some(safe) = outcome.safe(slot) {
        out.insert("safe".into(), json!(rounded(unit.scale.from_si(safe))));
    }
    out.insert("how".into(), json!(outcome.how(slot).word()));
    if let Some((source, evidence)) = outcome.brief.inputs.get(&slot).and_then(|input| input.source) {
        out.insert("source".into(), json!({ "key": source.key, "at": source.at, "evidence": evidence.words() }));
    }
    Value::Object(out)
}

/// Ten digits: more than anyone measures, fewer than a last bit.
fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return 0.0;
    }
    let text = format!("{value:.9e}");
    text.parse().unwrap_or(value)
}

fn verdict(verdict: &Verdict) -> Value {
    let mut out = Map::new();
    out.insert("code".into(), json!(verdict.code));
    out.insert("severity".into(), json!(verdict.severity.word()));
    out.insert("message".into(), json!(verdict.message));
    if let Some(check) = verdict.check {
        out.insert("about".into(), json!(check.about));
    }
    if let Some(first) = verdict.mends.first() {
        out.insert("mend".into(), mend(first));
        let others: Vec<Value> = verdict.mends[1..].iter().map(mend).collect();
        if !others.is_empty() {
            out.insert("other_mends".into(), json!(others));
        }
    }
    if !verdict.keys.is_empty() {
        out.insert("keys".into(), json!(verdict.keys));
    }
    Value::Object(out)
}

fn mend(mend: &Mend) -> Value {
    let moves: Vec<Value> = mend
        .moves
        .iter()
        .map(|m| {
            let unit = ALL[m.knob.slot as usize].unit.name;
            json!({ "key": m.knob.path, "from": rounded(m.from), "to": rounded(m.to), "unit": unit })
        })
        .collect();
    json!({ "moves": moves, "mends": mend.mends })
}

/// JSON Schema of [`outcome`], every id by name.
pub fn schema() -> Value {
    let number = json!({
        "type": "object",
        "required": ["value", "unit", "how"],
        "properties": {
            "value": { "type": "number" },
            "unit": { "type": "string" },
            "low": { "type": "number", "description": "10 % point" },
            "high": { "type": "number", "description": "90 % point" },
            "safe": { "type": "number", "description": "the 90 % point on the costly side" },
            "how": { "enum": ["given", "assumed", "decided", "computed", "measured"] },
            "source": { "type": "object" },
        },
    });
    let mut ids = Map::new();
    for key in &ALL {
        let unit = if key.unit.name.is_empty() { "a number".to_string() } else { key.unit.name.to_string() };
        ids.insert(
            key.name.into(),
            json!({ "$ref": "#/$defs/value", "description": format!("{} ({unit})", key.says) }),
        );
    }
    debug_assert_eq!(ids.len(), IDS);
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Outcome of a plan",
        "type": "object",
        "required": ["title", "values", "checks", "pieces"],
        "properties": {
            "title": { "type": "string" },
            "fibre": { "type": "string" },
            "weave": { "type": "string" },
            "values": { "type": "object", "properties": ids, "additionalProperties": false },
            "checks": { "type": "array", "items": { "type": "object", "required": ["code", "severity", "message"], "properties": {
                "code": { "type": "string" },
                "severity": { "enum": ["fail", "warn", "note"] },
                "message": { "type": "string" },
                "about": { "type": "array", "items": { "type": "string" } },
                "mend": { "$ref": "#/$defs/mend" },
                "other_mends": { "type": "array", "items": { "$ref": "#/$defs/mend" } },
                "keys": { "type": "array", "items": { "type": "string" } },
            } } },
            "passed": { "type": "array", "items": { "type": "string" } },
            "log": { "type": "object", "description": "What the log taught and what lies ahead by it; only with the log.",
                "required": ["lessons", "findings", "odd", "forecasts", "clock", "more"] },
            "pieces": { "type": "array", "items": { "type": "object", "required": ["name", "how_many", "width", "length", "unit"] } },
        },
        "$defs": {
            "value": number,
            "mend": { "type": "object", "required": ["moves"], "properties": {
                "moves": { "type": "array", "items": { "type": "object", "required": ["key", "from", "to", "unit"] } },
                "mends": { "type": "array", "items": { "type": "string" } },
            } },
        },
    })
}
