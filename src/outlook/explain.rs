//! Why a number is what it is: its formula with the numbers in it, where each came from, who says so, and what it feeds.

use super::outcome::Outcome;
use crate::chain::decide::inputs::{How, path_of};
use crate::chain::keys::{ALL, KeyInfo};
use crate::chain::mode::{By, Node};
use crate::formulas::registry::{Evidence, Source};
use crate::units::show;

/// An input of a formula, as an explanation lists it.
#[derive(Clone, Debug, PartialEq)]
pub struct Letter {
    /// Its letter in the equation.
    pub letter: String,
    /// The id it is, or the name of the step on the way.
    pub name: String,
    /// Whether `name` is an id of the outcome.
    pub is_id: bool,
    /// In the unit of the equation.
    pub value: String,
    pub how: Option<How>,
}

/// An explanation.
#[derive(Clone, Debug)]
pub struct Explanation {
    pub id: &'static str,
    pub says: &'static str,
    /// As the reader writes it.
    pub value: String,
    /// 10 % and 90 % points, where it is doubted.
    pub range: Option<String>,
    /// The costly side, where there is one.
    pub safe: Option<String>,
    pub how: How,
    /// How that came about, in words: a plan key, a decision, an assumption, a formula's sentence.
    pub why: String,
    /// `d = sqrt(0.004*Tt/(pi*rho*phi))`.
    pub equation: Option<String>,
    /// The same with its numbers and result.
    pub worked: Option<String>,
    pub letters: Vec<Letter>,
    /// Formula by name, for the handbook.
    pub formula: Option<&'static str>,
    pub source: Option<(Source, Evidence)>,
    /// Ids that use it.
    pub feeds: Vec<&'static str>,
}

/// Explains an id that this plan has.
pub fn explain(outcome: &Outcome, slot: u16) -> Option<Explanation> {
    let node = outcome.trace.node(slot)?;
    let key = &ALL[slot as usize];
    let style = outcome.brief.style;
    let mut out = Explanation {
        id: key.name,
        says: key.says,
        value: show::quantity(node.si, &key.unit, style),
        range: outcome.spread(slot).map(|s| show::range(s.low, s.high, &key.unit, style)),
        safe: outcome.safe(slot).map(|si| show::quantity(si, &key.unit, style)),
        how: outcome.how(slot),
        why: String::new(),
        equation: None,
        worked: None,
        letters: Vec::new(),
        formula: None,
        source: None,
        feeds: outcome.trace.feeds(slot).into_iter().map(|slot| ALL[slot as usize].name).collect(),
    };
    match node.by {
        By::Given => given(outcome, slot, key, &mut out),
        By::Formula(entry) => {
            let (letter, unit, _) = entry.gives();
            out.letters =
                letters(outcome, node, &entry.takes().iter().map(|arg| (arg.name, arg.unit)).collect::<Vec<_>>());
            out.why = entry.says().to_string();
            out.equation = Some(format!("{letter} = {}", entry.text()));
            let result = show::number(entry.result_from_si(node.si));
            out.worked =
                Some(format!("{letter} = {} = {result}{}", substituted(entry.text(), &out.letters), spaced(unit)));
            out.formula = Some(entry.name());
            out.source = Some((entry.source(), entry.evidence()));
        }
        By::Root(solve) => {
            out.letters = letters(outcome, node, &solve.letters[..solve.letters.len().saturating_sub(1)]);
            out.why = solve.says.to_string();
            out.equation = Some(format!("{} = 0", solve.residual));
            out.formula = Some(solve.name);
            out.source = Some((solve.source, solve.evidence));
        }
    }
    Some(out)
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() { String::new() } else { format!(" {unit}") }
}

/// Where a number that came from outside came from.
fn given(outcome: &Outcome, slot: u16, key: &KeyInfo, out: &mut Explanation) {
    let input = outcome.brief.inputs.get(&slot);
    let decided = outcome.brief.decisions.iter().find(|decision| decision.slot == slot);
    let path = path_of(slot);
    out.source = input.and_then(|input| input.source);
    out.why = match (out.how, decided, input) {
        (_, Some(decision), _) => format!("Decided: {}.", decision.why),
        (How::Given, _, Some(input)) => match input.path {
            Some(path) => format!("Stated in the plan, `{path}`."),
            None => "Follows from what the plan states.".into(),
        },
        (How::Measured, _, _) => match outcome.ahead.as_ref().and_then(|ahead| ahead.learned.of(slot)) {
            Some(lesson) => format!("Measured, by your log. {}", lesson.words),
            None => "Made already, by your log.".into(),
        },
        (How::Assumed, _, Some(input)) if input.is_doubted() => format!(
            "Assumed, nobody has measured yours: usually {}.",
            show::range(input.low, input.high, &key.unit, outcome.brief.style)
        ),
        (How::Assumed, _, _) => "Assumed until you state it.".into(),
        _ => "Decided from the drafted pieces and the lay.".into(),
    };
    if let Some(path) = path.filter(|_| out.how == How::Assumed) {
        out.why += &format!(" State it as `{path}`.");
    }
}

fn letters(outcome: &Outcome, node: &Node, names: &[(&str, &str)]) -> Vec<Letter> {
    let from = outcome.trace.inputs(node);
    from.zip(names)
        .map(|(input, (letter, unit))| {
            let (name, is_id, kind) = match (input.slot, &input.by) {
                (Some(slot), _) => (ALL[slot as usize].name.to_string(), true, Some(ALL[slot as usize].kind)),
                (None, By::Formula(entry)) => (entry.name().to_string(), false, Some(entry.gives().2)),
                (None, _) => ("a step on the way".to_string(), false, None),
            };
            let scale =
                kind.and_then(|kind| kind.units().iter().find(|known| known.name == *unit)).map(|known| known.scale);
            let value = scale.map_or(input.si, |scale| scale.from_si(input.si));
            // a digit more than the result has, so that it comes out when worked by hand
            let value = format!("{}{}", show::rounded(value, 4), spaced(unit));
            let how = input.slot.map(|slot| outcome.how(slot));
            Letter { letter: letter.to_string(), name, is_id, value, how }
        })
        .collect()
}

/// The equation with its letters replaced by their numbers.
fn substituted(text: &str, letters: &[Letter]) -> String {
    let mut out = String::new();
    let mut word = String::new();
    let flush = |word: &mut String, out: &mut String| {
        match letters.iter().find(|letter| letter.letter == *word) {
            Some(letter) => out.push_str(letter.value.split(' ').next().unwrap_or("")),
            None => out.push_str(word),
        }
        word.clear();
    };
    for c in text.chars() {
        if c.is_alphanumeric() || c == '_' || (c == '.' && word.chars().all(|c| c.is_ascii_digit())) {
            word.push(c);
        } else {
            flush(&mut word, &mut out);
            out.push(c);
        }
    }
    flush(&mut word, &mut out);
    out
}

/// The explanation as lines of plain text.
pub fn page(e: &Explanation) -> String {
    let mut out = format!("{}   {}\n", e.id, e.value);
    out += &format!("  {}\n", e.says);
    if let Some(range) = &e.range {
        out += &format!("  8 makers in 10 land within {range}");
        out += &e.safe.as_ref().map_or("\n".into(), |safe| format!("; plan with {safe} to be safe\n"));
    }
    out += &format!("\n  {}\n", e.why);
    if let Some(equation) = &e.equation {
        out += &format!("\n    {equation}\n");
    }
    if let Some(worked) = &e.worked {
        out += &format!("    {worked}\n");
    }
    if !e.letters.is_empty() {
        out.push('\n');
        let wide = |f: fn(&Letter) -> usize| e.letters.iter().map(f).max().unwrap_or(0);
        let (letter, name, value) =
            (wide(|l| l.letter.chars().count()), wide(|l| l.name.chars().count()), wide(|l| l.value.chars().count()));
        for l in &e.letters {
            let how = l.how.map_or("on the way", How::word);
            out += &format!("    {:letter$}  {:name$}  {:>value$}  {how}\n", l.letter, l.name, l.value);
        }
    }
    if let Some((source, evidence)) = &e.source {
        let place = if source.at.is_empty() { String::new() } else { format!(", {}", source.at) };
        out += &format!(
            "\n  Who says so: {}{place} ({}).\n",
            crate::formulas::sources::title(source.key),
            evidence.words()
        );
    }
    if !e.feeds.is_empty() {
        out += &format!("  Feeds: {}.\n", e.feeds.join(", "));
    }
    if let Some(formula) = e.formula {
        out += &format!("  Try it: clothwright formula {formula}\n");
    }
    out
}
