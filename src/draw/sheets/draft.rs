//! The draft as a net of lines: a line for each shaft under the cloth, a line for each treadle beside it, a knot wherever a
//! thread, a shaft or a treadle meet. A finger that follows an end down to its knot, along the shaft's line to a knot on a
//! treadle's, and up to a pick has followed the loom. Takes a draft; computes nothing but the places on the paper.

use kurbo::{BezPath, Point, Rect, Shape};
use std::sync::Arc;

use crate::draw::picture::{Pixels, Press};
use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type};
use crate::draw::title::{self, FOOT, MARGIN};
use crate::draw::{dimension, text};
use crate::weave::{Colour, ColourOrder, Draft, Drawdown, Fault, Interlacing, Lifts, Set, Shed};

/// What the sheet is drawn from. With no `colours` the two systems are told apart by two inks.
#[derive(Clone, Copy, Debug)]
pub struct Drafted<'a> {
    pub draft: &'a Draft,
    pub colours: &'a [Colour],
    pub warp: &'a ColourOrder,
    pub weft: &'a ColourOrder,
    /// Every end and pick as drafted, or else one repeat (a small one several times).
    pub whole: bool,
}

/// Most crossings drawn as threads; above this the cloth is a picture.
const MOST_DRAWN: usize = 6_400;
/// Widest cloth on an upright page; a longer draft makes a wider sheet.
const WIDE: f64 = 124.0;
/// Side of a crossing, most and least.
const SIDE: (f64, f64) = (9.0, 0.9);

/// The places of things on the paper.
struct Plan {
    ends: usize,
    picks: usize,
    side: f64,
    /// Distance of shaft lines and of treadle lines.
    apart: f64,
    /// Left and top of the cloth.
    left: f64,
    top: f64,
    /// Lines beside the cloth: treadles, or shafts of a lift plan.
    beside: usize,
    shafts: usize,
}

impl Plan {
    fn bottom(&self) -> f64 {
        self.top + self.picks as f64 * self.side
    }
    fn right(&self) -> f64 {
        self.left + self.ends as f64 * self.side
    }
    fn end(&self, end: usize) -> f64 {
        self.left + (end as f64 + 0.5) * self.side
    }
    fn pick(&self, pick: usize) -> f64 {
        self.bottom() - (pick as f64 + 0.5) * self.side
    }
    /// Height of a shaft's line, from 1.
    fn shaft(&self, shaft: usize) -> f64 {
        self.bottom() + 6.0 + (shaft - 1) as f64 * self.apart
    }
    /// Place of a line beside the cloth, from 1; the first is nearest to it.
    fn line(&self, number: usize) -> f64 {
        self.left - 6.0 - (number - 1) as f64 * self.apart
    }
    fn knot(&self) -> f64 {
        (self.side * 0.36).clamp(0.42, 1.35)
    }
}

/// The sheet. Refuses a draft whose repeat is too large to look at.
pub fn sheet(drafted: &Drafted) -> Result<Sheet, Fault> {
    let draft = drafted.draft;
    let repeat = draft.repeat()?;
    let (ends, picks) = if drafted.whole { (draft.ends(), draft.picks()) } else { shown(&repeat) };
    let beside = match draft.lifts() {
        Lifts::Treadled { tieup, .. } => tieup.len(),
        Lifts::Plan(_) => draft.shafts(),
    };
    let side = (WIDE / ends as f64).min(WIDE / picks as f64).clamp(SIDE.1, SIDE.0);
    let apart = side.clamp(3.3, 5.6);
    let left = MARGIN + 10.0 + beside as f64 * apart + 6.0;
    let width = (left + ends as f64 * side + 20.0 + MARGIN).max(210.0);
    let name = if draft.name.is_empty() { "Draft".to_string() } else { format!("Draft: {}", draft.name) };
    let describe =
        format!("{} ends on {} shafts and {} picks, drawn as threads and lines", ends, draft.shafts(), picks);
    let mut sheet = Sheet::new("draft", &name, &describe, width, 100.0);
    let top = title::head(&mut sheet, &lead(draft, &repeat)) + 6.0;
    let plan = Plan { ends, picks, side, apart, left, top, beside, shafts: draft.shafts() };
    lines(&mut sheet, draft, &plan);
    threading(&mut sheet, draft, &plan);
    treading(&mut sheet, draft, &plan);
    cloth(&mut sheet, drafted, &plan)?;
    numbers(&mut sheet, &plan);
    let below = plan.shaft(plan.shafts) + 9.0;
    let end = orders(&mut sheet, draft, &repeat, below);
    sheet.height = end + FOOT + MARGIN;
    title::foot(&mut sheet, if drafted.whole { "every end and pick as drafted" } else { "the repeat" });
    Ok(sheet)
}

/// Ends and picks to show of a repeat: a small one several times over.
fn shown(repeat: &Drawdown) -> (usize, usize) {
    let times = |n: usize| if n >= 10 { n } else { n * 12usize.div_ceil(n) };
    (times(repeat.ends()), times(repeat.picks()))
}

fn lead(draft: &Draft, repeat: &Drawdown) -> String {
    let lift = match (draft.lifts(), draft.shed()) {
        (Lifts::Plan(_), Shed::Rising) => "Beside it, a knot on each shaft that goes up for the pick.",
        (Lifts::Plan(_), Shed::Sinking) => "Beside it, a knot on each shaft that goes down for the pick.",
        (_, Shed::Rising) => {
            "Beside it, a knot on what is pressed for the pick. Where lines cross, a ring: that treadle lifts that shaft."
        }
        (_, Shed::Sinking) => {
            "Beside it, a knot on what is pressed for the pick. Where lines cross, a cross: that treadle lowers that shaft."
        }
    };
    format!(
        "Repeats every {} ends and {} picks. Under the cloth, a knot on the line of the shaft that carries the end. {lift} Weave \
         from the bottom up.",
        repeat.ends(),
        repeat.picks()
    )
}

/// Shaft lines, and what crosses or continues them: treadle lines with their ties, or the bends of a lift plan.
fn lines(sheet: &mut Sheet, draft: &Draft, plan: &Plan) {
    let right = plan.right() + 2.0;
    match draft.lifts() {
        Lifts::Treadled { tieup, .. } => {
            let far = plan.line(plan.beside) - 3.0;
            for shaft in 1..=plan.shafts {
                sheet.line(Line::Detail, (far, plan.shaft(shaft)), (right, plan.shaft(shaft)));
            }
            for (i, tied) in tieup.iter().enumerate() {
                let x = plan.line(i + 1);
                sheet.line(Line::Detail, (x, plan.top - 2.0), (x, plan.shaft(plan.shafts) + 3.0));
                for shaft in tied.iter() {
                    tie(sheet, draft.shed(), Point::new(x, plan.shaft(shaft)), plan.apart * 0.3);
                }
                let at = (x, plan.top - 3.2);
                sheet.words(Type::Small, Anchor::Middle, at, (i + 1).to_string());
            }
        }
        Lifts::Plan(_) => {
            for shaft in 1..=plan.shafts {
                let (x, y) = (plan.line(shaft), plan.shaft(shaft));
                let bend = 3.0;
                let mut path = BezPath::new();
                path.move_to((x, plan.top - 2.0));
                path.line_to((x, y - bend));
                path.quad_to((x, y), (x + bend, y));
                path.line_to((right, y));
                sheet.path(Line::Detail, path);
                sheet.words(Type::Small, Anchor::Middle, (x, plan.top - 3.2), shaft.to_string());
            }
        }
    }
    for shaft in 1..=plan.shafts {
        let base = plan.shaft(shaft) + Type::Small.size() * text::CAPITAL / 2.0;
        sheet.words(Type::Small, Anchor::Start, (right + 1.2, base), shaft.to_string());
    }
    let turned = Point::new(right + 8.5, (plan.shaft(1) + plan.shaft(plan.shafts)) / 2.0 + 1.0);
    sheet.words(Type::Note, Anchor::Start, turned, "shafts");
    let what = if matches!(draft.lifts(), Lifts::Plan(_)) { "shafts moved" } else { "treadles" };
    sheet.words(Type::Note, Anchor::End, (plan.line(1) + 2.0, plan.top - 7.2), what);
}

fn tie(draw: &mut impl Draw, shed: Shed, at: Point, half: f64) {
    match shed {
        Shed::Rising => draw.area(Fill::Paper, Some(Line::Outline), kurbo::Circle::new(at, half).to_path(0.01)),
        Shed::Sinking => {
            let (a, b) = (kurbo::Vec2::new(half, half), kurbo::Vec2::new(half, -half));
            draw.line(Line::Outline, at - a, at + a);
            draw.line(Line::Outline, at - b, at + b);
        }
    }
}

/// Ends from the cloth down to their knots.
fn threading(sheet: &mut Sheet, draft: &Draft, plan: &Plan) {
    let every = draft.threading();
    let knot = plan.knot();
    sheet.group("threading", Some("Threading"), kurbo::Affine::IDENTITY, |g| {
        for end in 0..plan.ends {
            let set = &every[end % every.len()];
            let x = plan.end(end);
            if let Some(last) = set.last() {
                g.line(Line::Hatch, (x, plan.bottom()), (x, plan.shaft(last)));
            }
            for shaft in set.iter() {
                g.spot(Fill::Warp, (x, plan.shaft(shaft)), knot);
            }
        }
    });
}

/// Picks from the cloth across to their knots.
fn treading(sheet: &mut Sheet, draft: &Draft, plan: &Plan) {
    let pressed: Vec<Set> = match draft.lifts() {
        Lifts::Treadled { treadling, .. } => treadling.clone(),
        Lifts::Plan(shafts) => shafts.clone(),
    };
    let knot = plan.knot();
    sheet.group("treading", Some("Order of treading"), kurbo::Affine::IDENTITY, |g| {
        for pick in 0..plan.picks {
            let set = &pressed[pick % pressed.len()];
            let y = plan.pick(pick);
            if let Some(last) = set.last() {
                g.line(Line::Hatch, (plan.left, y), (plan.line(last), y));
            }
            for number in set.iter() {
                g.spot(Fill::Second, (plan.line(number), y), knot);
            }
        }
    });
}

/// Numbers along the cloth, and which way it grows.
fn numbers(sheet: &mut Sheet, plan: &Plan) {
    let step = |n: usize, side: f64| {
        [1, 2, 4, 5, 10, 20, 50, 100].into_iter().find(|s| *s as f64 * side >= 7.0 || s * 3 > n).unwrap_or(200)
    };
    let every = step(plan.ends, plan.side).max(2);
    for end in (every..=plan.ends).step_by(every) {
        sheet.words(Type::Note, Anchor::Middle, (plan.end(end - 1), plan.top - 1.6), end.to_string());
    }
    let every = step(plan.picks, plan.side).max(2);
    for pick in (every..=plan.picks).step_by(every) {
        let base = plan.pick(pick - 1) + Type::Note.size() * text::CAPITAL / 2.0;
        sheet.words(Type::Note, Anchor::Start, (plan.right() + 1.6, base), pick.to_string());
    }
    let x = plan.right() + 12.0;
    if plan.bottom() - plan.top > 16.0 {
        dimension::way(sheet, Line::Grain, (x, plan.bottom()), (x, plan.bottom() - 14.0), "");
        sheet.words_turned(Type::Note, Anchor::Start, (x + 3.4, plan.bottom()), -90.0, "weave this way");
    }
}

/// The cloth, as threads that lie over each other or, when there are very many, as a picture.
fn cloth(sheet: &mut Sheet, drafted: &Drafted, plan: &Plan) -> Result<(), Fault> {
    let frame = Rect::new(plan.left, plan.top, plan.right(), plan.bottom());
    let draft = drafted.draft;
    let sheds: Vec<Set> = (0..draft.picks()).map(|pick| draft.moved(pick)).collect();
    let rising = draft.shed() == Shed::Rising;
    let up =
        |end: usize, pick: usize| draft.threading()[end % draft.ends()].meets(&sheds[pick % sheds.len()]) == rising;
    if plan.ends.saturating_mul(plan.picks) > MOST_DRAWN {
        let png = picture(drafted, plan, &up)?;
        let describe = format!("{} ends by {} picks, a square for each crossing", plan.ends, plan.picks);
        sheet.items().push(Item::Picture { at: frame, png: Arc::new(png), describe });
    } else {
        sheet
            .group("cloth", Some("What lies on the face"), kurbo::Affine::IDENTITY, |g| threads(g, drafted, plan, &up));
    }
    sheet.rect(Line::Detail, frame);
    Ok(())
}

/// A thread's colour and that of its edge.
fn inks(drafted: &Drafted, order: &ColourOrder, thread: usize, plain: Fill) -> Fill {
    match drafted.colours.get(order.at(thread)) {
        Some(colour) => Fill::Rgb(colour.rgb[0], colour.rgb[1], colour.rgb[2]),
        None => plain,
    }
}

fn threads(g: &mut Vec<Item>, drafted: &Drafted, plan: &Plan, up: &impl Fn(usize, usize) -> bool) {
    let half = plan.side * 0.41;
    let edge = (plan.side > 1.7).then_some(Line::Detail);
    let frame = Rect::new(plan.left, plan.top, plan.right(), plan.bottom());
    g.area(Fill::Loss, None, frame.to_path(0.1));
    let bar = |from: Point, to: Point| Rect::from_points(from, to).to_path(0.1);
    let upright = |end: usize, top: f64, bottom: f64| {
        bar(Point::new(plan.end(end) - half, top), Point::new(plan.end(end) + half, bottom))
    };
    let warp = |end: usize| inks(drafted, drafted.warp, end, Fill::Warp);
    for end in 0..plan.ends {
        g.area(warp(end), None, upright(end, plan.top, plan.bottom()));
    }
    for pick in 0..plan.picks {
        let y = plan.pick(pick);
        let path = bar(Point::new(plan.left, y - half), Point::new(plan.right(), y + half));
        g.area(inks(drafted, drafted.weft, pick, Fill::Weft), edge, path);
    }
    for end in 0..plan.ends {
        for (from, to) in runs(plan.picks, |pick| up(end, pick)) {
            let (top, bottom) = (plan.pick(to - 1) - plan.side / 2.0, plan.pick(from) + plan.side / 2.0);
            g.area(warp(end), None, upright(end, top, bottom));
            if let Some(line) = edge {
                for x in [plan.end(end) - half, plan.end(end) + half] {
                    g.trace(line, [Point::new(x, top), Point::new(x, bottom)]);
                }
            }
        }
    }
}

/// Runs of places where `is` holds, as (from, one past).
fn runs(n: usize, is: impl Fn(usize) -> bool) -> Vec<(usize, usize)> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for i in (0..n).filter(|&i| is(i)) {
        match out.last_mut() {
            Some(last) if last.1 == i => last.1 = i + 1,
            _ => out.push((i, i + 1)),
        }
    }
    out
}

/// A square of some pixels for each crossing.
fn picture(drafted: &Drafted, plan: &Plan, up: &impl Fn(usize, usize) -> bool) -> Result<Vec<u8>, Fault> {
    let dots = [4, 3, 2, 1].into_iter().find(|d| plan.ends * plan.picks * d * d <= 1 << 23);
    let dots = dots.ok_or_else(|| Fault::new("this draft is too large for a sheet", "draw its repeat"))?;
    let rgb = |order: &ColourOrder, thread: usize, plain: [u8; 3]| {
        drafted.colours.get(order.at(thread)).map_or(plain, |c| c.rgb)
    };
    let mut pixels = Pixels::new(plan.ends * dots, plan.picks * dots, [255; 4])
        .map_err(|why| Fault::new(why.to_string(), "draw its repeat"))?;
    let width = pixels.width;
    for (i, pixel) in pixels.rgba.chunks_exact_mut(4).enumerate() {
        let (end, pick) = (i % width / dots, plan.picks - 1 - i / width / dots);
        let colour = match up(end, pick) {
            true => rgb(drafted.warp, end, [0x2B, 0x5F, 0x8C]),
            false => rgb(drafted.weft, pick, [0xDD, 0xB8, 0x3F]),
        };
        pixel[..3].copy_from_slice(&colour);
    }
    Ok(pixels.png(Press::Small, None))
}

/// The orders in words, and what the weave is like. Gives the y below.
fn orders(sheet: &mut Sheet, draft: &Draft, repeat: &Drawdown, top: f64) -> f64 {
    let wide = (sheet.width - 2.0 * MARGIN).min(190.0);
    let mut y = top;
    let mut part = |sheet: &mut Sheet, head: &str, words: &str| {
        sheet.words(Type::Strong, Anchor::Start, (MARGIN, text::base(Type::Strong, y)), head);
        y = text::paragraph(sheet, Type::Body, (MARGIN + 32.0, y), wide - 32.0, words) + 1.2;
    };
    let ends = crate::weave::drawdown::period(draft.ends(), |a, b| draft.threading()[a] == draft.threading()[b]);
    part(sheet, "Thread", &format!("from the left, on shafts {}", listed(&draft.threading()[..ends])));
    match draft.lifts() {
        Lifts::Treadled { treadling, .. } => {
            let picks = crate::weave::drawdown::period(treadling.len(), |a, b| treadling[a] == treadling[b]);
            part(sheet, "Tread", &format!("from the first pick, {}", listed(&treadling[..picks])));
        }
        Lifts::Plan(plan) => {
            let picks = crate::weave::drawdown::period(plan.len(), |a, b| plan[a] == plan[b]);
            let verb = if draft.shed() == Shed::Rising { "Lift" } else { "Lower" };
            part(sheet, verb, &format!("from the first pick, shafts {}", listed(&plan[..picks])));
        }
    }
    part(sheet, "Floats", &floats(&Interlacing::of(repeat)));
    y
}

/// Numbers in fours; threads on several shafts in brackets. Long orders are cut and say so.
fn listed(sets: &[Set]) -> String {
    const MOST: usize = 96;
    let mut out = String::new();
    for (i, set) in sets.iter().take(MOST).enumerate() {
        if i > 0 {
            out.push_str(if i % 4 == 0 { "  ·  " } else { " " });
        }
        match set.len() {
            0 => out.push('–'),
            1 => out.push_str(&set.to_string()),
            _ => out.push_str(&format!("({})", set.to_string().replace(',', "+"))),
        }
    }
    if sets.len() > MOST {
        out.push_str(&format!("  … {} more, as drawn", sets.len() - MOST));
    }
    out
}

fn floats(i: &Interlacing) -> String {
    let (warp, weft) = (i.longest_warp_float, i.longest_weft_float);
    let mut words = format!(
        "the warp lies over {} and under {} picks at most, {} on average; the weft over {} and under {} ends at most, {} on average.",
        warp.0,
        warp.1,
        rounded(i.warp_float),
        weft.0,
        weft.1,
        rounded(i.weft_float)
    );
    if !i.loose_ends.is_empty() || !i.loose_picks.is_empty() {
        words.push_str(&format!(
            " {} ends and {} picks of the repeat are never caught: they will fall out.",
            i.loose_ends.len(),
            i.loose_picks.len()
        ));
    } else if !i.holds_together {
        words.push_str(" Some threads lie wholly above the rest: this comes off the loom as two cloths.");
    }
    words
}

fn rounded(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths.fract() == 0.0 { format!("{tenths:.0}") } else { format!("{tenths:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weave::Weave;

    fn of(weave: &str) -> Sheet {
        let draft = Weave::parse(weave).unwrap().draft();
        let one = ColourOrder::plain(0);
        sheet(&Drafted { draft: &draft, colours: &[], warp: &one, weft: &one, whole: false }).unwrap()
    }

    #[test]
    fn each_end_and_pick_has_its_knot() {
        let sheet = of("twill 2/2");
        let knots = |name: &str| {
            sheet
                .items
                .iter()
                .filter_map(|i| match i {
                    Item::Group { name: n, items, .. } if n == name => Some(items),
                    _ => None,
                })
                .flatten()
                .filter(|i| matches!(i, Item::Path { fill: Some(_), .. }))
                .count()
        };
        assert_eq!((knots("threading"), knots("treading")), (12, 12));
    }

    #[test]
    fn everything_stays_on_the_paper() {
        for weave in ["plain", "twill 5/2/1/2", "satin 8/3", "hopsack 4"] {
            let sheet = of(weave);
            let e = crate::draw::extent::of(&sheet.items).unwrap();
            assert!(
                e.x0 >= 5.0 && e.y0 >= 5.0 && e.x1 <= sheet.width - 5.0 && e.y1 <= sheet.height - 5.0,
                "{weave} {e:?}"
            );
        }
    }
}
