//! What lies ahead, as JSON. Numbers are in the unit that stands beside them; what is not known is left out.

use super::evenness::words;
use super::{Ahead, Evenness, Forecast, Rescue};
use crate::chain::keys::ALL;
use crate::measure::evenness::{Bobbin, Order};
use crate::units::{AnyUnit, HOUR, M, PERCENT, Q, TEX};
use serde_json::{Value, json};

/// Nine digits, no last bits.
fn rounded(value: f64) -> f64 {
    format!("{value:.8e}").parse().unwrap_or(value)
}

fn range(unit: &AnyUnit, [middle, low, high]: [f64; 3]) -> Value {
    let at = |si: f64| rounded(unit.scale.from_si(si));
    json!({ "value": at(middle), "low": at(low), "high": at(high), "unit": unit.name })
}

/// All of it.
pub fn json(ahead: &Ahead) -> Value {
    let lessons = ahead.learned.lessons.iter().map(|lesson| {
        let key = &ALL[lesson.measured.slot as usize];
        let m = &lesson.measured;
        let mut out = range(&key.unit, [m.middle, m.low, m.high]);
        (out["id"], out["readings"], out["words"]) = (json!(key.name), json!(lesson.n), json!(lesson.words));
        out
    });
    let findings = ahead.learned.findings.iter().map(|found| {
        let mut out = range(&found.unit, [found.middle, found.low, found.high]);
        (out["name"], out["says"]) = (json!(found.name), json!(found.says));
        (out["readings"], out["words"]) = (json!(found.n), json!(found.words));
        out
    });
    let mut out = json!({
        "lessons": lessons.collect::<Vec<_>>(),
        "findings": findings.collect::<Vec<_>>(),
        "odd": ahead.odd,
        "forecasts": ahead.forecasts.iter().map(forecast).collect::<Vec<_>>(),
        "clock": clock(ahead),
        "more": ahead.more.iter().map(|more| json!({
            "what": more.what, "needed": more.enough.needed, "more": more.enough.more, "words": more.enough.words,
        })).collect::<Vec<_>>(),
    });
    if let Some(found) = &ahead.evenness {
        out["evenness"] = evenness(found);
    }
    out
}

fn forecast(forecast: &Forecast) -> Value {
    let rescue = |rescue: &Rescue| {
        let moves: Vec<Value> = rescue.moves.iter().map(|(key, to)| json!({ "key": key, "to": to })).collect();
        json!({
            "do": rescue.does, "gives": rounded(forecast.unit.scale.from_si(rescue.gives)), "unit": forecast.unit.name,
            "chance": rounded(rescue.chance), "costs": rescue.costs, "moves": moves,
        })
    };
    let mut figure = range(&forecast.unit, forecast.figure);
    figure["says"] = json!(forecast.figure_says);
    json!({
        "name": forecast.name,
        "asks": forecast.asks,
        "chance": rounded(forecast.chance),
        "warn": forecast.warn,
        "words": forecast.words,
        "figure": figure,
        "rescues": forecast.rescues.iter().map(rescue).collect::<Vec<_>>(),
    })
}

fn clock(ahead: &Ahead) -> Value {
    let clock = &ahead.clock;
    let hours = |time: [Q<crate::units::Duration>; 3]| {
        let [middle, low, high] = time.map(|time| rounded(time.get(&HOUR)));
        json!({ "value": middle, "low": low, "high": high, "unit": "h" })
    };
    let steps = clock.steps.iter().map(|step| json!({
        "step": step.name, "done": rounded(step.done), "left": hours(step.left), "whole": rounded(step.whole.get(&HOUR)), "own_pace": step.own,
    }));
    let ways = clock.ways.iter().map(|way| {
        let mut out = json!({ "name": way.name, "hours": hours(way.hours) });
        if let Some(chance) = way.quicker {
            out["quicker"] = json!(rounded(chance));
        }
        out
    });
    let week = &clock.calendar.week;
    let day = |at: usize| crate::outlook::day::text(clock.calendar.finish[at]);
    let mut out = json!({
        "steps": steps.collect::<Vec<_>>(),
        "left": hours(clock.left),
        "worked": rounded(clock.worked.get(&HOUR)),
        "week": hours([week.middle, week.low, week.high]),
        "finish": { "value": day(0), "low": day(1), "high": day(2), "words": clock.calendar.words },
        "ways": ways.collect::<Vec<_>>(),
    });
    if let Some(words) = &clock.rest.words {
        out["rest"] = json!(words);
    }
    out
}

fn evenness(found: &Evenness) -> Value {
    let names = |list: &[Bobbin]| list.iter().map(|bobbin| bobbin.name).collect::<Vec<_>>();
    let bobbin = |mark: &crate::measure::evenness::Mark| {
        json!({
            "bobbin": mark.bobbin.name, "count": rounded(mark.bobbin.count.get(&TEX)), "unit": "tex",
            "length": rounded(mark.bobbin.length.get(&M)), "off": rounded(mark.off.get(&PERCENT)), "odd": mark.odd,
        })
    };
    let order = |order: &Order| {
        json!({
            "groups": order.groups, "threads": order.threads.len(),
            "step": rounded(order.step.get(&PERCENT)), "step_as_spun": rounded(order.step_as_spun.get(&PERCENT)), "unit": "%",
        })
    };
    let shares = &found.shares;
    let mut out = json!({
        "bobbins": found.chart.marks.iter().map(bobbin).collect::<Vec<_>>(),
        "warp": names(&shares.warp), "warp_full": shares.warp_full,
        "weft": names(&shares.weft), "weft_full": shares.weft_full,
        "aside": names(&shares.aside),
        "words": words(found),
    });
    for (name, found) in [("warp_order", &found.warp), ("weft_order", &found.weft)] {
        if let Some(found) = found {
            out[name] = order(found);
        }
    }
    out
}
