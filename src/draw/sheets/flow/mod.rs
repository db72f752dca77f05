//! The flow of mass from raw fibre to the garment: a river whose width is the mass, with what is lost turning off it at each
//! step. Loose fibre runs in waves, carded fibre nearly straight, yarn carries its twist and cloth its weave, so that the
//! picture says what it is even as a photocopy. [`wide`] runs left to right, [`narrow`] down a phone's screen.
//! Knows masses and their names; how they came about is the chain's business.

use kurbo::{Affine, Point, Vec2};

use crate::draw::extent;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::sheets::symbols::{Symbol, symbol};
use crate::draw::text;
use crate::units::show::{Style, natural};
use crate::units::{G, Kind, Mass, OZ, Q};

mod river;

use river::{BEND, FRINGE, Gate, Plan, Stream, crossings, fringe, gates, reach_shape, strand_gap, strands};

/// What a stage is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stuff {
    Fibre,
    Yarn,
    Cloth,
}

impl Stuff {
    fn fill(self) -> Fill {
        match self {
            Stuff::Fibre => Fill::Fibre,
            Stuff::Yarn => Fill::Yarn,
            Stuff::Cloth => Fill::Cloth,
        }
    }
}

/// One stage of the flow, and the step that leads on from it.
#[derive(Clone, Debug)]
pub struct Stage {
    /// "seed cotton"
    pub name: String,
    pub mass: Q<Mass>,
    /// The middle 80 % of what the mass may be, where that is known.
    pub range: Option<(Q<Mass>, Q<Mass>)>,
    pub stuff: Stuff,
    pub symbol: Symbol,
    /// A few words more: "16 plants", "5.4 km". May be empty.
    pub note: String,
    /// The step to the next stage: "ginning". Empty for the last.
    pub step: String,
    /// What leaves at that step: "seed and hull".
    pub lost: String,
}

/// The whole flow, raw fibre first, what is worn or used last.
#[derive(Clone, Debug)]
pub struct Flow {
    pub title: String,
    pub stages: Vec<Stage>,
    pub style: Style,
}

/// The stages that can be drawn: those whose mass is a number above zero.
fn drawable(flow: &Flow) -> (Vec<&Stage>, Vec<f64>) {
    let sound = |s: &&Stage| s.mass.to_si().is_finite() && s.mass.to_si() > 0.0;
    let stages: Vec<&Stage> = flow.stages.iter().filter(sound).collect();
    let masses = stages.iter().map(|s| s.mass.to_si()).collect();
    (stages, masses)
}

/// A mass as the person reads it: whole grams or tenths of an ounce, finer only where there is little of it.
fn mass_words(flow: &Flow, mass: f64) -> String {
    let step = match flow.style {
        Style::Metric => G.to_si(1.0),
        Style::Inch => OZ.to_si(0.1),
    };
    let seen = if mass >= 10.0 * step { (mass / step).round() * step } else { mass };
    natural(seen, Kind::Mass, flow.style).replace(' ', "\u{a0}")
}

/// A range of masses; the unit stands once where it is the same.
fn range_words(flow: &Flow, low: f64, high: f64) -> String {
    let (low, high) = (mass_words(flow, low), mass_words(flow, high));
    match (low.split_once('\u{a0}'), high.split_once('\u{a0}')) {
        (Some((number, a)), Some((_, b))) if a == b => format!("{number}–{high}"),
        _ => format!("{low}–{high}"),
    }
}

/// A share in whole per cent, or finer where it is small.
fn share_words(part: f64, whole: f64) -> String {
    let percent = 100.0 * part / whole;
    if percent < 9.5 { format!("{percent:.1}\u{a0}%") } else { format!("{percent:.0}\u{a0}%") }
}

/// "Of 1097 g of seed cotton 16 % becomes the tee."
fn sentence(flow: &Flow, stages: &[&Stage], masses: &[f64]) -> String {
    let (Some(first), Some(last)) = (stages.first(), stages.last()) else { return String::new() };
    let (from, to) = (masses[0], masses[masses.len() - 1]);
    // What stands behind a comma belongs to the label, not into a sentence.
    let name = first.name.split(',').next().unwrap_or_default();
    format!("Of {} of {name} {} becomes the {}.", mass_words(flow, from), share_words(to, from), last.name)
}

/// The whole in words, for those who cannot see it.
fn described(flow: &Flow, stages: &[&Stage], masses: &[f64]) -> String {
    let parts: Vec<String> =
        stages.iter().zip(masses).map(|(s, m)| format!("{} {}", s.name, mass_words(flow, *m))).collect();
    format!("Masses from stage to stage: {}.", parts.join(", "))
}

/// River, streams and strands; words are set by the caller.
fn river(draw: &mut impl Draw, flow: &Flow, stages: &[&Stage], masses: &[f64], gates: &[Gate], plan: Plan) {
    for (i, pair) in gates.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        let title = format!("{}: {}", stages[i].name, mass_words(flow, masses[i]));
        draw.group("stage", Some(&title), Affine::IDENTITY, |g| {
            g.area(stages[i].stuff.fill(), None, reach_shape(a, b, plan));
            crossings(g, stages[i].stuff, a, b, plan);
        });
        if let Some(stream) = Stream::between(a, b, plan) {
            let lost = masses[i] - masses[i + 1];
            let share = share_words(lost, masses[i]);
            let title = format!("{}: {} {} ({share})", stages[i].step, stages[i].lost, mass_words(flow, lost));
            draw.group("loss", Some(&title), Affine::IDENTITY, |g| {
                g.area(Fill::Loss, None, stream.shape(plan));
                g.area(stages[i].stuff.fill(), None, stream.dipped(plan, strand_gap(plan)));
            });
        }
    }
    strands(draw, stages, gates, plan);
}

/// Width of the words of a stage in the wide picture.
const BLOCK: f64 = 34.0;

/// The flow from left to right, for a page or a wide screen.
pub fn wide(flow: &Flow) -> Sheet {
    let (stages, masses) = drawable(flow);
    let describe = described(flow, &stages, &masses);
    let mut sheet = Sheet::new("flow", &flow.title, &describe, 100.0, 20.0);
    if stages.len() < 2 {
        return nothing(sheet);
    }
    let plan = Plan { widest: 46.0, reach: 35.5, lean: 0.16, down: false };
    let gates = gates(&masses, &vec![7.0; masses.len()], plan);
    let words = |s: &&Stage, m: &f64| stage_words(&mut Vec::new(), flow, s, *m, Point::ZERO, BLOCK - 3.0);
    let above = stages.iter().zip(&masses).map(|(s, m)| words(s, m)).fold(12.0, f64::max);
    let top = gates.iter().map(|g| g.near).fold(0.0, f64::min) - above - 4.0;
    river(&mut sheet, flow, &stages, &masses, &gates, plan);
    ending(&mut sheet, &stages, &gates, plan, 22.0);
    for (i, stage) in stages.iter().enumerate() {
        let x = gates[i].along;
        sheet.line(Line::Dimension, (x, top), (x, gates[i].near + gates[i].wide));
        stage_words(&mut sheet, flow, stage, masses[i], Point::new(x + 1.6, top), BLOCK - 3.0);
    }
    let right = gates[gates.len() - 1].along + BLOCK;
    let mut used = 0.0_f64;
    for (i, pair) in gates.windows(2).enumerate() {
        if let Some(stream) = Stream::between(pair[0], pair[1], plan) {
            let x = stream.end(plan).x - stream.wide / 2.0;
            let y = stream.end(plan).y + FRINGE + 1.0;
            let room = (pair[1].along + pair[1].lead + BEND - x - 2.5).clamp(24.0, 40.0);
            let below = loss_words(&mut sheet, flow, &stages, &masses, i, Point::new(x, y), room);
            used = if x + room > right - CLOSING { used.max(below) } else { used };
        }
    }
    let foot = extent::of(&sheet.items).map_or(0.0, |e| e.y1);
    closing_words(&mut sheet, &sentence(flow, &stages, &masses), (right, foot), used + 4.0);
    extent::fitted(sheet, 4.0)
}

/// Width for the sentence that sums it up.
const CLOSING: f64 = 64.0;

/// The sentence that sums it up, in serifs, set from the right: its foot at `corner` or lower, its head not above `top`.
fn closing_words(sheet: &mut Sheet, words: &str, (right, foot): (f64, f64), top: f64) {
    let lines = balanced(words, CLOSING);
    let high = text::leading(Type::Heading);
    let top = top.max(foot - lines.len() as f64 * high);
    for (i, line) in lines.into_iter().enumerate() {
        sheet.words(Type::Heading, Anchor::End, (right, text::base(Type::Heading, top + i as f64 * high)), line);
    }
}

/// Words broken into as few lines as `wide` allows, all about as long as each other.
fn balanced(words: &str, wide: f64) -> Vec<String> {
    let mut lines = text::wrap(Type::Heading, words, wide);
    let mut narrower = wide - 2.0;
    while narrower > 10.0 {
        let tried = text::wrap(Type::Heading, words, narrower);
        if tried.len() > lines.len() {
            break;
        }
        lines = tried;
        narrower -= 2.0;
    }
    lines
}

/// A sheet that says that there is nothing to draw.
fn nothing(mut sheet: Sheet) -> Sheet {
    sheet.words(Type::Body, Anchor::Start, (4.0, 10.0), "No masses to draw yet.");
    sheet
}

/// The river's last stretch, cut off with a fringe, and behind it the picture of what it was all for.
fn ending(draw: &mut impl Draw, stages: &[&Stage], gates: &[Gate], plan: Plan, side: f64) {
    let (Some(last), Some(gate)) = (stages.last(), gates.last()) else { return };
    let from = Gate { lead: 0.0, ..*gate };
    let end = Gate { along: gate.along + if plan.down { 13.0 } else { 7.0 }, ..from };
    draw.area(last.stuff.fill(), None, reach_shape(from, end, plan));
    crossings(draw, last.stuff, from, end, plan);
    fringe(draw, from, end, plan);
    let least = if plan.down { side / 2.0 - 1.0 } else { side / 2.0 - 6.0 };
    let centre = plan.at(end.along + FRINGE + 1.4 + side / 2.0, gate.near + (gate.wide / 2.0).max(least));
    symbol(draw, last.symbol, last.stuff.fill(), centre, side);
}

/// Picture, name, mass, range and note of a stage in a column `wide` wide below `at`; gives the y below.
fn stage_words(sheet: &mut impl Draw, flow: &Flow, stage: &Stage, mass: f64, at: Point, wide: f64) -> f64 {
    let icon = 8.4;
    symbol(sheet, stage.symbol, stage.stuff.fill(), at + Vec2::new(icon / 2.0, icon / 2.0), icon);
    let words = at + Vec2::new(icon + 1.4, 0.0);
    let room = wide - icon - 1.4;
    let below = text::paragraph(sheet, Type::Small, (words.x, at.y - 0.4), room, &stage.name);
    sheet.words(Type::Heading, Anchor::Start, (words.x, below + 4.6), mass_words(flow, mass));
    let mut y = below + 6.3;
    if let Some((low, high)) = stage.range {
        let words = range_words(flow, low.to_si(), high.to_si());
        y = text::paragraph(sheet, Type::Note, (at.x, y), wide, &words);
    }
    if stage.note.is_empty() { y } else { text::paragraph(sheet, Type::Note, (at.x, y), wide, &stage.note) }
}

/// What is lost at the step after stage `i`, in a column `wide` wide below `at`.
fn loss_words(
    sheet: &mut impl Draw,
    flow: &Flow,
    stages: &[&Stage],
    masses: &[f64],
    i: usize,
    at: Point,
    wide: f64,
) -> f64 {
    let lost = masses[i] - masses[i + 1];
    let mut y = text::paragraph(sheet, Type::Label, at, wide, &stages[i].step);
    let words = format!("{} {}", mass_words(flow, lost), stages[i].lost);
    y = text::paragraph(sheet, Type::Small, (at.x, y), wide, words.trim());
    text::paragraph(sheet, Type::Note, (at.x, y), wide, &format!("keeps {}", share_words(masses[i + 1], masses[i])))
}

/// Height of a stage's words in the narrow picture, where the river beside them leaves the least room.
fn words_height(flow: &Flow, stage: &Stage, mass: f64) -> f64 {
    stage_words(&mut Vec::new(), flow, stage, mass, Point::new(0.0, 1.6), PHONE - 39.0)
}

/// Width of the narrow picture.
const PHONE: f64 = 80.0;

/// The flow from top to bottom, for a phone.
pub fn narrow(flow: &Flow) -> Sheet {
    let (stages, masses) = drawable(flow);
    let describe = described(flow, &stages, &masses);
    let mut sheet = Sheet::new("flow", &flow.title, &describe, PHONE, 20.0);
    if stages.len() < 2 {
        return nothing(sheet);
    }
    let plan = Plan { widest: 27.0, reach: 26.0, lean: 0.0, down: true };
    let leads: Vec<f64> = stages.iter().zip(&masses).map(|(s, m)| words_height(flow, s, *m) + 1.6).collect();
    let gates = gates(&masses, &leads, plan);
    river(&mut sheet, flow, &stages, &masses, &gates, plan);
    ending(&mut sheet, &stages, &gates, plan, 18.0);
    for (i, stage) in stages.iter().enumerate() {
        let (y, inner) = (gates[i].along, gates[i].near + gates[i].wide);
        sheet.line(Line::Dimension, (gates[i].near, y), (PHONE - 8.0, y));
        let x = inner + 2.5;
        stage_words(&mut sheet, flow, stage, masses[i], Point::new(x, y + 1.6), PHONE - 8.0 - x);
    }
    for (i, pair) in gates.windows(2).enumerate() {
        if let Some(stream) = Stream::between(pair[0], pair[1], plan) {
            let end = stream.end(plan);
            let x = end.x + FRINGE + 1.4;
            let y = end.y - 1.5 * text::leading(Type::Small);
            loss_words(&mut sheet, flow, &stages, &masses, i, Point::new(x, y), PHONE - 8.0 - x);
        }
    }
    let foot = extent::of(&sheet.items).map_or(0.0, |e| e.y1);
    for (i, line) in balanced(&sentence(flow, &stages, &masses), PHONE - 8.0).into_iter().enumerate() {
        let y = foot + 3.0 + i as f64 * text::leading(Type::Heading);
        sheet.words(Type::Heading, Anchor::Start, (0.0, text::base(Type::Heading, y)), line);
    }
    extent::fitted(sheet, 4.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent::{Seen, walk};

    fn flow(masses: &[f64]) -> Flow {
        let stage = |(i, m): (usize, &f64)| Stage {
            name: format!("stage {i}"),
            mass: Q::si(*m),
            range: None,
            stuff: Stuff::Fibre,
            symbol: Symbol::Lint,
            note: String::new(),
            step: "work".to_string(),
            lost: "dust".to_string(),
        };
        Flow { title: "Flow".to_string(), stages: masses.iter().enumerate().map(stage).collect(), style: Style::Metric }
    }

    #[test]
    fn both_pictures_hold_their_words_and_odd_input_is_no_panic() {
        for masses in [
            vec![1.097, 0.373, 0.317, 0.295, 0.215, 0.172],
            vec![0.3, 0.29],
            vec![5.0, 5.0, 5.0],
            vec![1.0, 2.0, 1e-9],
            vec![f64::NAN, -1.0, 0.0],
            vec![],
        ] {
            let flow = flow(&masses);
            for sheet in [wide(&flow), narrow(&flow)] {
                assert!(crate::draw::refused::check(&sheet).is_ok());
                walk(&sheet.items, &mut |seen| {
                    if let Seen::Words { at, text, kind, anchor, turn } = seen {
                        let e = extent::of_words(at, text, kind, anchor, turn);
                        assert!(
                            e.x0 >= 0.0 && e.x1 <= sheet.width && e.y0 >= 0.0 && e.y1 <= sheet.height,
                            "{text} {e:?}"
                        );
                    }
                });
            }
        }
    }
}
