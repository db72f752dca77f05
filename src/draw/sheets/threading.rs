//! The threading, to print and tick: how the threads pass the heddles, drawn large for two pitches; the order of the moves; then
//! every thread in groups of ten, its place, its colour and the guide marks. Takes a threading; computes only places on paper.

use kurbo::{Circle, Point, Rect, Shape};

use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::weave::heddles::{Hanging, Heddles, Hold, Move, Needs, Place, Way};
use crate::weave::threading::{GROUP, Guide, Thread, thread_list};
use crate::weave::{Colour, ColourOrder};

/// What the sheets are drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Threaded<'a> {
    pub hanging: &'a Hanging,
    pub colours: &'a [Colour],
    pub order: &'a ColourOrder,
    /// Working ends, and how many at each edge are two ends as one.
    pub ends: usize,
    pub doubled: usize,
    pub paper: Paper,
}

/// Height of a group of ten, and room between the two columns of groups.
const ROW: f64 = 5.4;
const BETWEEN: f64 = 6.0;
/// Side of a thread's field.
const FIELD: f64 = 5.6;
/// Most sheets made; the threads beyond are thread by thread at the bench.
const MOST_SHEETS: usize = 60;

/// The sheets, as many as the threads need.
pub fn sheets(threaded: &Threaded) -> Vec<Sheet> {
    let list = thread_list(threaded.hanging, threaded.order, threaded.ends, threaded.doubled);
    let groups = threaded.ends.div_ceil(GROUP);
    let mut out = Vec::new();
    let mut next = 0;
    while (next < groups || out.is_empty()) && out.len() < MOST_SHEETS {
        let first = out.is_empty();
        let (mut sheet, top) = page(threaded, first);
        let foot = sheet.height - MARGIN - FOOT;
        let rows = ((foot - top) / ROW).floor().max(1.0) as usize;
        let wide = (sheet.width - 2.0 * MARGIN - BETWEEN) / 2.0;
        for place in 0..2 * rows {
            let group = next + place;
            if group >= groups {
                break;
            }
            let at = Point::new(MARGIN + (place / rows) as f64 * (wide + BETWEEN), top + (place % rows) as f64 * ROW);
            let threads: Vec<Thread> = (1..=GROUP).filter_map(|n| list.number(group * GROUP + n)).collect();
            draw_group(&mut sheet, threaded, &threads, at, wide);
        }
        next += 2 * rows;
        out.push(sheet);
    }
    let number = out.len();
    for (n, sheet) in out.iter_mut().enumerate() {
        title::foot(sheet, &format!("sheet {} of {number}", n + 1));
    }
    out
}

/// An empty page and the y where the groups begin.
fn page(threaded: &Threaded, first: bool) -> (Sheet, f64) {
    let describe = format!("{} threads in groups of ten, each with its place in the heddles", threaded.ends);
    let name = if first { "Threading" } else { "Threading, continued" };
    let mut sheet = title::page(threaded.paper, "threading", name, &describe);
    if !first {
        let top = title::head(&mut sheet, "");
        return (sheet, top);
    }
    let top = title::head(&mut sheet, &lead(threaded));
    let below = match threaded.hanging.heddles() {
        Heddles::Rigid { heddles, ends_per_pitch } => passing(&mut sheet, threaded, (heddles, ends_per_pitch), top),
        Heddles::String { .. } => shafts(&mut sheet, threaded, top),
    };
    let below = moves(&mut sheet, threaded.hanging, below + 2.0) + 2.0;
    let below = key(&mut sheet, threaded, below);
    (sheet, below + 2.0)
}

fn lead(threaded: &Threaded) -> String {
    let start = format!("{} threads, from the left as you sit at the loom.", threaded.ends);
    let edges = match threaded.doubled {
        0 => String::new(),
        n => format!(" The first and last {n} are two ends as one."),
    };
    let rest = match threaded.hanging.needs(threaded.ends.min(4000)) {
        Needs::Rigid { threads_in_slot, .. } if threads_in_slot > 1 => {
            format!(
                " Each slot passes up to {} threads side by side; they must not cross in it.",
                counted(threads_in_slot)
            )
        }
        _ => String::new(),
    };
    format!("{start}{edges}{rest} Thread ten, look at them, tie them loosely, tick the box.")
}

fn counted(n: usize) -> String {
    ["no", "one", "two", "three", "four", "five", "six"].get(n).map_or_else(|| n.to_string(), ToString::to_string)
}

/// Ink of a heddle's eyes.
fn ink(heddle: usize) -> Fill {
    [Fill::Yarn, Fill::Weft, Fill::Bad][heddle.min(2)]
}

fn holder(place: &Place) -> Option<usize> {
    match place {
        Place::Rigid(ways) => ways.iter().position(|w| matches!(w, Way::Eye(_))),
        Place::String { .. } => None,
    }
}

/// Two pitches seen from above: the heddles one behind another, each thread through its eye or its slots.
fn passing(sheet: &mut Sheet, threaded: &Threaded, (heddles, per_pitch): (usize, usize), top: f64) -> f64 {
    let threads = (2 * per_pitch + 1).min(threaded.ends.max(1));
    let left = MARGIN + 30.0;
    let apart = ((sheet.width - MARGIN - left - 6.0) / threads as f64).min(17.0);
    let x = |thread: usize| left + (thread as f64 + 0.5) * apart;
    let (band, gap) = (6.0, 9.0);
    let y = |heddle: usize| top + 6.0 + (heddles - 1 - heddle) as f64 * (band + gap);
    let low = y(0) + band + 8.0;
    sheet.words(Type::Note, Anchor::End, (left - 4.0, text::base(Type::Note, top + 0.4)), "towards the back");
    for heddle in 0..heddles {
        let words = match (heddle, heddles) {
            (_, 1) => "the heddle".to_string(),
            (0, _) => "heddle 1, near you".to_string(),
            (n, _) => format!("heddle {}", n + 1),
        };
        let base = y(heddle) + band / 2.0 + 1.0;
        sheet.words(Type::Label, Anchor::End, (left - 4.0, base), words);
    }
    let places: Vec<Place> = (0..threads).map(|t| threaded.hanging.place(t)).collect();
    for heddle in 0..heddles {
        blades(sheet, &places, heddle, (left, left + threads as f64 * apart), y(heddle), (band, apart));
    }
    for (thread, place) in places.iter().enumerate() {
        let held = holder(place);
        let line = if held.is_some() { Line::Outline } else { Line::Grain };
        sheet.line(line, (x(thread), low), (x(thread), top + 2.0));
        if let Some(heddle) = held {
            let eye = Circle::new((x(thread), y(heddle) + band / 2.0), 2.2).to_path(0.01);
            sheet.area(ink(heddle), Some(Line::Outline), eye);
        }
        sheet.words(Type::Label, Anchor::Middle, (x(thread), low + 3.4), (thread + 1).to_string());
    }
    sheet.words(Type::Note, Anchor::End, (left - 4.0, low + 3.4), "thread");
    low + 6.0
}

/// The solid parts of one heddle, an eye in each; what is left between them are the slots, numbered.
fn blades(
    sheet: &mut Sheet,
    places: &[Place],
    heddle: usize,
    (left, right): (f64, f64),
    y: f64,
    (band, apart): (f64, f64),
) {
    let way = |p: &Place| match p {
        Place::Rigid(ways) => ways.get(heddle).copied(),
        Place::String { .. } => None,
    };
    let half = (apart * 0.36).min(4.6);
    for rail in [y, y + band] {
        sheet.line(Line::Detail, (left, rail), (right, rail));
    }
    let mut slots: Vec<(usize, f64, f64)> = Vec::new();
    for (thread, place) in places.iter().enumerate() {
        let x = left + (thread as f64 + 0.5) * apart;
        match way(place) {
            Some(Way::Eye(_)) => {
                sheet.area(
                    Fill::OtherPart,
                    Some(Line::Detail),
                    Rect::new(x - half, y, x + half, y + band).to_path(0.1),
                );
            }
            Some(Way::Slot(n)) => match slots.last_mut() {
                Some(last) if last.0 == n => last.2 = x,
                _ => slots.push((n, x, x)),
            },
            None => {}
        }
    }
    let base = y + band / 2.0 + Type::Note.size() * text::CAPITAL / 2.0;
    for (n, from, to) in slots {
        // Between its first two threads, or beside its only one.
        let middle = if to > from { from + apart / 2.0 } else { from + apart * 0.45 };
        if middle + 5.0 < right {
            sheet.words(Type::Note, Anchor::Middle, (middle, base), format!("slot {n}"));
        }
    }
}

/// For string heddles: how many hang on each shaft.
fn shafts(sheet: &mut Sheet, threaded: &Threaded, top: f64) -> f64 {
    let Needs::String { heddles, dents } = threaded.hanging.needs(threaded.ends) else { return top };
    let each: Vec<String> = heddles.iter().enumerate().map(|(s, n)| format!("shaft {}: {n}", s + 1)).collect();
    let words = format!("Tie these heddles before you begin. {}. The reed takes {dents} dents.", each.join(", "));
    text::paragraph(sheet, Type::Body, (MARGIN, top), sheet.width - 2.0 * MARGIN, &words)
}

/// What is done for each pick of the repeat.
fn moves(sheet: &mut Sheet, hanging: &Hanging, top: f64) -> f64 {
    let order = hanging.order_of_moves();
    let head = format!("For each pick, and again from the first after {}:", order.len());
    sheet.words(Type::Strong, Anchor::Start, (MARGIN, text::base(Type::Strong, top)), head);
    let mut y = top + text::leading(Type::Strong) + 0.8;
    let (wide, mut x) = (sheet.width - MARGIN, MARGIN);
    for (pick, (made, opens)) in order.iter().enumerate().take(48) {
        let words = if *opens { move_words(made) } else { "no shed: this pick floats".to_string() };
        let room = text::width(Type::Small, &words) + 13.0;
        if x + room > wide {
            (x, y) = (MARGIN, y + 6.0);
        }
        let frame = Rect::new(x, y, x + room - 2.0, y + 4.8).to_rounded_rect(1.2).to_path(0.05);
        sheet.area(Fill::Part, None, frame);
        let base = y + 2.4 + Type::Small.size() * text::CAPITAL / 2.0;
        sheet.words(Type::Label, Anchor::Middle, (x + 4.0, base), (pick + 1).to_string());
        sheet.words(Type::Small, Anchor::Start, (x + 8.0, base), words);
        x += room;
    }
    if order.len() > 48 {
        y += 6.0;
        sheet.words(Type::Note, Anchor::Start, (MARGIN, text::base(Type::Note, y)), "… and so on, as the draft has it");
    }
    y + 6.4
}

/// Said shortly: "both up", "1 up, 2 at rest", "shafts 1+3 up".
fn move_words(made: &Move) -> String {
    let word = |hold: &Hold| match hold {
        Hold::Up => "up",
        Hold::Down => "down",
        Hold::Rest => "at rest",
    };
    match made {
        Move::String(up) => format!("shafts {} up", up.to_string().replace(',', "+")),
        Move::Rigid(holds) if holds.len() == 1 => format!("heddle {}", word(&holds[0])),
        Move::Rigid(holds) if holds.iter().all(|h| h == &holds[0]) => {
            format!("{} {}", if holds.len() == 2 { "both" } else { "all" }, word(&holds[0]))
        }
        Move::Rigid(holds) => {
            let each: Vec<String> =
                holds.iter().enumerate().map(|(h, hold)| format!("{} {}", h + 1, word(hold))).collect();
            each.join(", ")
        }
    }
}

/// What the signs in the groups mean, and the colours.
fn key(sheet: &mut Sheet, threaded: &Threaded, top: f64) -> f64 {
    let (mut x, mut top, right) = (MARGIN, top, sheet.width - MARGIN);
    let mut say = |sheet: &mut Sheet, draw: &dyn Fn(&mut Vec<Item>, Point), words: &str| {
        let wide = 6.4 + text::width(Type::Small, words);
        if x + wide > right {
            (x, top) = (MARGIN, top + 5.6);
        }
        let base = top + 2.6 + Type::Small.size() * text::CAPITAL / 2.0;
        draw(sheet.items(), Point::new(x + 2.6, top + 2.6));
        sheet.words(Type::Small, Anchor::Start, (x + 6.4, base), words);
        x += wide + 5.0;
        top
    };
    match threaded.hanging.heddles() {
        Heddles::Rigid { heddles, .. } => {
            for heddle in 0..heddles {
                let words =
                    if heddles == 1 { "in the eye".to_string() } else { format!("eye of heddle {}", heddle + 1) };
                say(sheet, &|g, at| sign(g, Some(heddle), &(heddle + 1).to_string(), at), &words);
            }
            let words = if heddles == 1 { "in the slot" } else { "slots only" };
            say(sheet, &|g, at| sign(g, None, "", at), words);
        }
        Heddles::String { ends_per_dent, .. } => {
            let words = format!("number of the shaft; {} in each dent", counted(ends_per_dent));
            say(sheet, &|g, at| sign(g, Some(0), "3", at), &words);
        }
    }
    let mut last = say(sheet, &|g, at| flag(g, at, 1.0), "tie a mark: every 50th, the middle");
    if threaded.doubled > 0 {
        last = say(sheet, &|g, at| twin(g, at - kurbo::Vec2::new(2.2, -0.9)), "two ends as one");
    }
    if threaded.colours.len() > 1 {
        for colour in threaded.colours {
            let (r, g, b) = (colour.rgb[0], colour.rgb[1], colour.rgb[2]);
            let draw = move |items: &mut Vec<Item>, at: Point| {
                let swatch = Rect::new(at.x - 2.2, at.y - 1.4, at.x + 2.2, at.y + 1.4);
                items.area(Fill::Rgb(r, g, b), Some(Line::Detail), swatch.to_path(0.1));
            };
            last = say(sheet, &draw, &colour.name);
        }
    }
    let top = last;
    let words = "Left of each ten the number of its last thread, right of it where its first one goes in the heddle nearest you.";
    let words = match threaded.hanging.heddles() {
        Heddles::Rigid { .. } => words,
        Heddles::String { .. } => {
            "Left of each ten the number of its last thread, right of it the dent of its first one."
        }
    };
    text::paragraph(sheet, Type::Note, (MARGIN, top + 6.0), sheet.width - 2.0 * MARGIN, words)
}

/// The sign of one thread.
fn sign(draw: &mut Vec<Item>, heddle: Option<usize>, word: &str, at: Point) {
    match heddle {
        Some(h) => {
            draw.area(ink(h), Some(Line::Detail), Circle::new(at, 2.0).to_path(0.01));
            let base = at.y + Type::Label.size() * text::CAPITAL / 2.0;
            draw.words(Type::Label, Anchor::Middle, (at.x, base), word);
        }
        None => {
            draw.spot(Fill::Paper, at, 1.9);
            draw.line(Line::Grain, (at.x, at.y - 1.9), (at.x, at.y + 1.9));
        }
    }
}

/// A guide mark: a small flag.
fn flag(draw: &mut Vec<Item>, at: Point, size: f64) {
    let pole = [at + kurbo::Vec2::new(-1.2 * size, 1.9 * size), at + kurbo::Vec2::new(-1.2 * size, -1.9 * size)];
    draw.trace(Line::Outline, pole);
    let corners =
        [pole[1], at + kurbo::Vec2::new(1.8 * size, -0.9 * size), at + kurbo::Vec2::new(-1.2 * size, 0.1 * size)];
    draw.polygon(Fill::Danger, None, corners);
}

/// Ten threads in a row, with their box to tick and where they begin.
fn draw_group(sheet: &mut Sheet, threaded: &Threaded, threads: &[Thread], at: Point, wide: f64) {
    let Some((first, last)) = threads.first().zip(threads.last()) else { return };
    let words = format!("Threads {} to {}", first.number, last.number);
    let row = at.y + ROW / 2.0;
    let base = row + Type::Small.size() * text::CAPITAL / 2.0;
    sheet.group(&format!("group-{}", first.group), Some(&words), kurbo::Affine::IDENTITY, |g| {
        g.rect(Line::Detail, Rect::new(at.x, row - 1.5, at.x + 3.0, row + 1.5));
        g.words(Type::Label, Anchor::End, (at.x + 12.4, base), last.number.to_string());
        let fields = at.x + 14.2;
        for thread in threads {
            let x = fields + (thread.in_group as f64 - 0.5) * FIELD;
            if threaded.colours.len() > 1
                && let Some(colour) = threaded.colours.get(thread.colour)
            {
                let strip = Rect::new(x - FIELD / 2.0, at.y + 0.2, x + FIELD / 2.0, at.y + ROW - 0.2);
                g.area(Fill::Rgb(colour.rgb[0], colour.rgb[1], colour.rgb[2]), None, strip.to_path(0.1));
            }
            field(g, thread, Point::new(x, row));
            if thread.guide.is_some_and(|guide| guide != Guide::Ten) {
                flag(g, Point::new(x + FIELD / 2.0, row - 0.4), 0.8);
            }
        }
        g.words(Type::Note, Anchor::Start, (fields + 10.0 * FIELD + 2.6, base), begins(&first.place));
        g.line(Line::Grid, (at.x, at.y + ROW), (at.x + wide, at.y + ROW));
    });
}

fn field(g: &mut Vec<Item>, thread: &Thread, at: Point) {
    let heddle = holder(&thread.place);
    match &thread.place {
        Place::Rigid(_) => {
            let word = heddle.map_or(String::new(), |h| (h + 1).to_string());
            sign(g, heddle, &word, at);
        }
        Place::String { heddles, .. } => {
            let shafts: Vec<String> = heddles.iter().map(|(shaft, _)| shaft.to_string()).collect();
            let base = at.y + Type::Label.size() * text::CAPITAL / 2.0;
            g.spot(Fill::Paper, at, 2.1);
            let word = if shafts.is_empty() { "–".to_string() } else { shafts.join("+") };
            g.words(Type::Label, Anchor::Middle, (at.x, base), word);
        }
    }
    if thread.double {
        twin(g, at);
    }
}

/// The mark of two ends as one.
fn twin(g: &mut Vec<Item>, at: Point) {
    g.spot(Fill::Danger, (at.x + 2.2, at.y - 1.7), 0.55);
    g.spot(Fill::Danger, (at.x + 2.2, at.y - 0.2), 0.55);
}

/// Where a group begins in the hardware.
fn begins(place: &Place) -> String {
    match place {
        Place::Rigid(ways) => match ways.first() {
            Some(Way::Eye(n)) => format!("eye {n}"),
            Some(Way::Slot(n)) => format!("slot {n}"),
            None => String::new(),
        },
        Place::String { dent, .. } => format!("dent {dent}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::weave::Weave;

    fn of(weave: &str, heddles: Heddles, ends: usize) -> Vec<Sheet> {
        let hanging = Hanging::of(&Weave::parse(weave).unwrap().draft(), heddles).unwrap();
        let mut colours = Vec::new();
        let order = ColourOrder::parse("20 natural 4 indigo", &mut colours).unwrap();
        sheets(&Threaded { hanging: &hanging, colours: &colours, order: &order, ends, doubled: 2, paper: Paper::A4 })
    }

    #[test]
    fn every_group_is_on_a_sheet_and_on_the_paper() {
        for (weave, heddles, ends) in [
            ("plain", Heddles::rigid(2), 908),
            ("plain", Heddles::rigid(1), 7),
            ("twill 2/2", Heddles::String { shafts: 4, ends_per_dent: 2 }, 433),
            ("twill 2/2", Heddles::Rigid { heddles: 3, ends_per_pitch: 4 }, 160),
        ] {
            let sheets = of(weave, heddles, ends);
            let groups: usize = sheets
                .iter()
                .flat_map(|s| &s.items)
                .filter(|i| matches!(i, Item::Group { name, .. } if name.starts_with("group-")))
                .count();
            assert_eq!(groups, ends.div_ceil(GROUP), "{weave} {ends}");
            for sheet in &sheets {
                let e = extent::of(&sheet.items).unwrap();
                assert!(
                    e.x0 > 5.0 && e.y0 > 5.0 && e.x1 < sheet.width - 5.0 && e.y1 < sheet.height - 5.0,
                    "{weave} {e:?}"
                );
            }
        }
    }
}
