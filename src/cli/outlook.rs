//! `outlook`: how sure the plan is, what makes it unsure, and which sample would make it surer.

use super::page::{Asked, WithLog, outcome_as};
use super::show::{FAINT, HEAD, inked, wrapped};
use super::{Answer, Ending, Format, pretty};
use crate::chain::keys::{self as id, ALL, slot};
use crate::checks;
use crate::diag::{near, show::Look};
use crate::measure::samples::Samples;
use crate::outlook::learned::Learned;
use crate::outlook::trials::{Trials, all_slots, trials};
use crate::outlook::{Outcome, ahead, matters, next};
use crate::units::show;
use std::path::Path;

/// Figures that the page shows.
static FIGURES: &[u16] = &[
    id::RAW_FIBRE.slot,
    id::YARN_MASS.slot,
    id::YARN_LENGTH.slot,
    id::WARP_LENGTH.slot,
    id::WIDTH_IN_REED.slot,
    id::ENDS.slot,
    id::CLOTH_MASS.slot,
    id::COVER_FACTOR.slot,
    id::PLANTS.slot,
    id::EXPECTED_BREAKS.slot,
    id::BOBBINS.slot,
    id::SPINNING.slot,
    id::WEAVING.slot,
    id::TOTAL_HOURS.slot,
];

/// What `outlook` is asked for.
pub struct Ask<'a> {
    /// Id of the figure to make surer.
    pub about: &'a str,
    /// Trials.
    pub count: usize,
    pub seed: u32,
    pub log: WithLog,
}

/// The command.
pub fn outlook(path: &Path, ask: &Ask, format: Format, look: Look) -> Answer {
    let Ask { about, count, seed, log } = *ask;
    let Some(about) = slot(about) else {
        let close = near(about, ALL.iter().map(|key| key.name))
            .map_or(String::new(), |close| format!("; did you mean `{close}`?"));
        return Err(format!("`{about}` is no id of the outcome{close}"));
    };
    let outcome = outcome_as(path, Asked { log, ..Asked::default() }, look)?;
    let run = trials(&outcome.brief, seed, count, &all_slots());
    let shares = matters::matters(&outcome.brief, about, seed);
    let samples = next::next(&outcome.brief, about, seed);
    let text = match format {
        Format::Text => page(&outcome, &run, about, &shares, &samples),
        Format::Json => json(&run, about, &shares, &samples),
    };
    Ok((text, Ending::Done))
}

fn page(outcome: &Outcome, run: &Trials, about: u16, shares: &[matters::Share], samples: &[next::Worth]) -> String {
    let style = outcome.brief.style;
    let mut out = format!("{}\n{} trials of the decided plan.\n\n", inked(HEAD, &outcome.brief.title), run.count);
    out += &format!("  {:34} {:>12} {:>24} {:>12}\n", "", "planned", "8 makers in 10", "to be safe");
    for slot in FIGURES.iter().copied().chain((!FIGURES.contains(&about)).then_some(about)) {
        let key = &ALL[slot as usize];
        let (Some(si), Some(spread)) = (outcome.numbers.si(slot), run.spread(slot)) else { continue };
        let text = |si| show::quantity(si, &key.unit, style);
        let safe = match key.costly {
            id::Costly::More => text(spread.high),
            id::Costly::Less => text(spread.low),
            id::Costly::Neither => String::new(),
        };
        let range = show::range(spread.low, spread.high, &key.unit, style);
        out += &format!("  {:34} {:>12} {range:>24} {safe:>12}\n", key.name, text(si));
    }
    out += &format!("\n{}\n", inked(HEAD, "Chance that each check passes, where it is not sure"));
    let unsure: Vec<String> = checks::ALL
        .iter()
        .enumerate()
        // a note speaks only where it has something to say: how often it does is no chance
        .filter(|(_, check)| check.severity != checks::Severity::Note)
        .filter_map(|(at, check)| Some((check, run.chance(at).filter(|chance| *chance < 0.995)?)))
        .map(|(check, chance)| format!("  {:28} {:>4.0} %  {}\n", check.code, 100.0 * chance, check.title))
        .collect();
    out +=
        &if unsure.is_empty() { "  every one passes in all but a few trials\n".to_string() } else { unsure.concat() };
    out += &format!("\n{} {}\n", inked(HEAD, "What makes it unsure:"), ALL[about as usize].name);
    for share in shares.iter().take(8).filter(|share| share.total > 0.01) {
        let key = &ALL[share.slot as usize];
        out += &format!("  {:30} {:>4.0} %  {}\n", key.name, 100.0 * share.total.min(1.0), inked(FAINT, key.says));
    }
    out += &format!("\n{}\n", inked(HEAD, "What to measure next"));
    for worth in samples.iter().take(6) {
        let gone = 100.0 * (1.0 - worth.left);
        out += &format!(
            "  {:20} takes {gone:.0} % of the doubt away in {}\n      {}\n",
            worth.sample.name,
            show::natural(worth.sample.minutes * 60.0, crate::units::Kind::Duration, style),
            wrapped(&worth.sample.words, 90, 6)
        );
    }
    if samples.is_empty() {
        out += "  no sample narrows this figure; nothing that feeds it is doubted\n";
    }
    if outcome.ahead.is_none() {
        out += &format!("\n{}\n", inked(HEAD, "How many readings for ± 5 %, eight times in ten"));
        for more in ahead::more(&outcome.brief, &Learned::default(), &Samples::default()) {
            out += &format!("  {}: {}\n", more.what, more.enough.words);
        }
    }
    out
}

fn json(run: &Trials, about: u16, shares: &[matters::Share], samples: &[next::Worth]) -> String {
    let mut values = serde_json::Map::new();
    for (slot, key) in ALL.iter().enumerate() {
        if let Some(spread) = run.spread(slot as u16) {
            let unit = key.unit.scale;
            values.insert(key.name.into(), serde_json::json!({
                "low": unit.from_si(spread.low), "middle": unit.from_si(spread.middle), "high": unit.from_si(spread.high), "unit": key.unit.name,
            }));
        }
    }
    let checks: Vec<_> = checks::ALL
        .iter()
        .enumerate()
        .filter_map(|(at, check)| Some(serde_json::json!({ "code": check.code, "chance": run.chance(at)? })))
        .collect();
    let matters: Vec<_> = shares
        .iter()
        .map(|share| serde_json::json!({ "id": ALL[share.slot as usize].name, "first": share.first, "total": share.total }))
        .collect();
    let next: Vec<_> = samples
        .iter()
        .map(|worth| serde_json::json!({
            "sample": worth.sample.name, "do": worth.sample.words, "minutes": worth.sample.minutes, "left": worth.left,
        }))
        .collect();
    pretty(&serde_json::json!({
        "about": ALL[about as usize].name, "trials": run.count, "values": values, "checks": checks, "matters": matters, "next": next,
    }))
}
