//! The winding of the warp: the guide string with its marks, what is wound in each pass and through which slots, the knots and
//! chains, yarn by colour, and the order of the work. Takes a plan of the winding; computes only places on paper.

use kurbo::{Point, Rect, Shape};

use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::units::show::{self, Style};
use crate::units::{CM, Length, M, Q};
use crate::weave::Colour;
use crate::weave::warping::{Plan, Winding};

/// What the sheets are drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Wound<'a> {
    pub plan: &'a Plan,
    pub colours: &'a [Colour],
    /// How the yarn is dressed before it is wound, where it is.
    pub dressing: Option<&'a str>,
    pub style: Style,
    pub paper: Paper,
}

/// Most sheets made of one warp.
const MOST_SHEETS: usize = 40;

/// The sheets, as many as the passes need.
pub fn sheets(wound: &Wound) -> Vec<Sheet> {
    let plan = wound.plan;
    let describe = format!("{} ends wound in {} passes", plan.ends, plan.passes.len());
    let mut sheet = title::page(wound.paper, "warping", "Winding the warp", &describe);
    let wide = sheet.width - 2.0 * MARGIN;
    let mut y = title::head(&mut sheet, &lead(wound));
    y = guide(&mut sheet, wound, y);
    y = steps(&mut sheet, wound, y + 2.0);
    y = by_colour(&mut sheet, wound, y + 3.0);
    let hazards = [Hazard::Tension];
    let need = caution::height(wide, &hazards);
    let low = sheet.height - MARGIN - FOOT - need;
    caution::draw(&mut sheet, (MARGIN, low), wide, &hazards);
    let mut room = sheet.height - MARGIN - FOOT - need - 5.0 - y - 3.0;
    let (all, mut next, mut out) = (plan.passes.len(), 0, Vec::new());
    if let Some(length) = repeat(plan) {
        out = by_repeats(wound, sheet, length, y + 3.0, room);
        return numbered(out);
    }
    loop {
        let to = (next + fitting(wound, room)).min(all);
        if to > next {
            passes(wound, next..to).draw(&mut sheet, (MARGIN, y + 3.0));
        }
        next = to;
        out.push(sheet);
        if next >= all || out.len() >= MOST_SHEETS {
            break;
        }
        sheet = title::page(wound.paper, "warping", "Winding the warp, continued", &describe);
        y = title::head(&mut sheet, "") - 3.0;
        room = sheet.height - MARGIN - FOOT - y - 6.0;
    }
    numbered(out)
}

fn numbered(mut out: Vec<Sheet>) -> Vec<Sheet> {
    let number = out.len();
    for (n, sheet) in out.iter_mut().enumerate() {
        title::foot(sheet, &format!("sheet {} of {number}", n + 1));
    }
    out
}

/// Passes after which the order of colours begins again, where it does so three times and more: then the order is printed
/// once, and the repeats are ticked.
fn repeat(plan: &Plan) -> Option<usize> {
    let same = |a: usize, b: usize| {
        let (a, b) = (&plan.passes[a], &plan.passes[b]);
        (a.colour, a.loops, a.singles, a.to - a.from) == (b.colour, b.loops, b.singles, b.to - b.from)
    };
    // the last pass may be cut short by the edge of the cloth
    let length = crate::weave::drawdown::period(plan.passes.len().saturating_sub(1), same);
    (length > 1 && plan.passes.len() >= 3 * length && length <= LONGEST_ORDER).then_some(length)
}

/// Most passes of a repeat that still stand on the first sheet.
const LONGEST_ORDER: usize = 12;
/// Columns of repeats to tick.
const TALLIES: usize = 3;

/// The order of one repeat, a box for every repeat, and what is wound after the last.
fn by_repeats(wound: &Wound, mut sheet: Sheet, length: usize, top: f64, room: f64) -> Vec<Sheet> {
    let plan = wound.plan;
    let whole = (plan.passes.len() - 1) / length;
    let order = passes(wound, 0..length);
    let mut tables =
        vec![("One repeat, wound in this order", order), ("Tick each repeat", tally(wound, length, whole))];
    if whole * length < plan.passes.len() {
        tables.push(("After the last repeat", passes(wound, whole * length..plan.passes.len())));
    }
    let (describe, mut out) = (sheet.describe.clone(), Vec::new());
    let (mut y, mut left) = (top, room);
    for (heading, table) in tables {
        let parts = if table.height() + 6.0 <= left { vec![table] } else { table.split(sheet.height - 60.0) };
        for part in parts {
            if part.height() + 6.0 > left {
                out.push(sheet);
                sheet = title::page(wound.paper, "warping", "Winding the warp, continued", &describe);
                y = title::head(&mut sheet, "");
                left = sheet.height - MARGIN - FOOT - y - 3.0;
            }
            sheet.words(Type::Strong, Anchor::Start, (MARGIN, text::base(Type::Strong, y)), heading);
            let low = part.draw(&mut sheet, (MARGIN, y + 5.0));
            left -= low + 4.0 - y;
            y = low + 4.0;
        }
    }
    out.push(sheet);
    out
}

fn tally(wound: &Wound, length: usize, whole: usize) -> Table {
    let columns = (0..TALLIES).flat_map(|_| {
        [
            Column::new("done", 11.0, Align::Middle),
            Column::new("repeat", 14.0, Align::End),
            Column::new("ends", 37.0, Align::Start),
        ]
    });
    let mut table = Table::new(columns.collect());
    let rows = whole.div_ceil(TALLIES);
    for row in 0..rows {
        let cells = (0..TALLIES).map(|column| column * rows + row).flat_map(|n| {
            if n >= whole {
                return [String::new(), String::new(), String::new()];
            }
            let (first, last) = (&wound.plan.passes[n * length], &wound.plan.passes[(n + 1) * length - 1]);
            ["□".to_string(), (n + 1).to_string(), format!("{} to {}", first.from, last.to)]
        });
        table.row(cells);
    }
    table
}

/// Passes that fit into a height; none when it is not worth a head.
fn fitting(wound: &Wound, room: f64) -> usize {
    let rows = |n: usize| passes(wound, 0..n.min(wound.plan.passes.len())).height();
    let (head, one) = (rows(0), rows(1) - rows(0));
    if room < head + 3.0 * one { 0 } else { ((room - head) / one.max(1.0)) as usize }
}

fn lead(wound: &Wound) -> String {
    let plan = wound.plan;
    let long = show::of(plan.guide, &M, wound.style);
    let how = match plan.winding {
        Winding::Peg => "straight on to the loom, in loops through the slots and round a peg",
        Winding::Board => "on a board with a cross, then spread in the loom",
    };
    format!("{} ends, each {long} long, {how}. Wash, dry and wind the yarn before you measure it.", plan.ends)
}

fn length(value: Q<Length>, style: Style) -> String {
    show::of(value, &CM, style)
}

/// The string tied along the way of the warp, with every mark at its distance.
fn guide(sheet: &mut Sheet, wound: &Wound, top: f64) -> f64 {
    let plan = wound.plan;
    let (left, right) = (MARGIN + 4.0, sheet.width - MARGIN - 4.0);
    sheet.words(Type::Heading, Anchor::Start, (MARGIN, text::base(Type::Heading, top)), "The guide string");
    let words = format!(
        "Cut a string that does not stretch, {} from knot to knot, tie a bit of bright yarn at each mark, and wind beside it.",
        length(plan.guide, wound.style)
    );
    let y = text::paragraph(sheet, Type::Body, (MARGIN, top + 6.6), sheet.width - 2.0 * MARGIN, &words);
    let string = y + 9.0;
    let x = |at: Q<Length>| left + (right - left) * (at / plan.guide).clamp(0.0, 1.0);
    sheet.line(Line::Curve, (left, string), (right, string));
    for pair in plan.marks.windows(2) {
        if pair[0].words.starts_with("begin") {
            let band = Rect::new(x(pair[0].at), string - 2.2, x(pair[1].at), string + 2.2);
            sheet.area(Fill::Cloth, None, band.to_path(0.1));
            let name = pair[0].words.trim_start_matches("begin ");
            let name = text::shortened(Type::Label, name, band.width());
            sheet.words(Type::Label, Anchor::Middle, (band.center().x, string - 3.6), name);
        }
    }
    let mut table = Table::new(vec![
        Column::new("mark", 12.0, Align::End),
        Column::new("from the front knot", 34.0, Align::Point),
        Column::new("what it is", 100.0, Align::Start),
    ]);
    let mut before = f64::MIN;
    for (n, mark) in plan.marks.iter().enumerate() {
        let at = Point::new(x(mark.at), string);
        sheet.line(Line::Outline, (at.x, at.y - 2.8), (at.x, at.y + 2.8));
        // Numbers of marks that lie close step aside.
        let number = if at.x - before < 3.4 { before + 3.4 } else { at.x };
        before = number;
        sheet.words(Type::Small, Anchor::Middle, (number, at.y + 6.0), (n + 1).to_string());
        table.row([(n + 1).to_string(), length(mark.at, wound.style), mark.words.clone()]);
    }
    let below = table.draw(sheet, (MARGIN, string + 9.0));
    let spare = format!("{} are left over for a sample or a mistake.", length(plan.spare, wound.style));
    text::paragraph(sheet, Type::Small, (MARGIN, below + 1.2), sheet.width - 2.0 * MARGIN, &spare)
}

/// The order of the work.
fn steps(sheet: &mut Sheet, wound: &Wound, top: f64) -> f64 {
    let plan = wound.plan;
    let knots = &plan.knots;
    let tied = match (knots.first(), knots.last()) {
        (Some(a), Some(b)) if a == b => format!("{} knots of {a} ends", knots.len()),
        (Some(a), Some(b)) => format!("{} knots of {a} ends, {b} in the last", knots.len()),
        _ => "no knots".to_string(),
    };
    let steps: Vec<String> = match plan.winding {
        Winding::Peg => vec![
            "Clamp the loom and the peg so that neither can slide; set the peg by the guide string.".into(),
            "Tie the yarn to the back rod. Pull a loop through the first slot, carry it to the peg, over the peg, and go back \
             round the rod for the next. All loops with one even pull, none tight."
                .into(),
            match plan.loops_per_slot {
                Some(1) => "One loop in each slot: two ends. Count in tens.".into(),
                Some(n) => format!("{n} loops in each slot of the heddle nearest the back: {} ends. Count in tens.", 2 * n),
                None => String::new(),
            },
            "Put two sticks in the cross behind the heddle before you cut the loops at the peg.".into(),
            "Wind on with paper or sticks between the layers, then thread by the threading sheet.".into(),
            format!("Tie to the front rod in {tied}; even the pull before the second half of each knot."),
        ],
        Winding::Board => vec![
            "Set the pegs by the guide string. Make the cross at one end; make a second, by tens, at the other.".into(),
            format!("Tie a counting thread round every ten. Lift off in chains of {} ends; tie each cross before you lift it.", chains(plan)),
            "Put two sticks in the cross and tie them together. Spread the tens, then wind on with paper or sticks between.".into(),
            "Thread by the threading sheet, taking the ends from the cross in their order.".into(),
            format!("Tie to the front rod in {tied}; even the pull before the second half of each knot."),
        ],
    };
    let wide = sheet.width - 2.0 * MARGIN;
    let mut y = top;
    let steps = wound.dressing.into_iter().chain(steps.iter().map(String::as_str));
    for (n, step) in steps.filter(|step| !step.is_empty()).enumerate() {
        sheet.words(Type::Strong, Anchor::End, (MARGIN + 4.0, text::base(Type::Strong, y)), (n + 1).to_string());
        y = text::paragraph(sheet, Type::Body, (MARGIN + 7.0, y), wide - 7.0, step) + 0.6;
    }
    y
}

fn chains(plan: &Plan) -> String {
    match (plan.chains.first(), plan.chains.last()) {
        (Some(a), Some(b)) if a != b => format!("{a}, the last of {b}"),
        (Some(a), _) => a.to_string(),
        _ => "0".to_string(),
    }
}

/// Ends and yarn of each colour.
fn by_colour(sheet: &mut Sheet, wound: &Wound, top: f64) -> f64 {
    let plan = wound.plan;
    let mut table = Table::new(vec![
        Column::new("yarn", 40.0, Align::Start),
        Column::new("ends", 20.0, Align::End),
        Column::new("length of yarn", 34.0, Align::Point),
    ]);
    let yarn = |ends: usize| show::of(plan.guide * ends as f64, &M, wound.style);
    for (colour, ends) in plan.of_colour.iter().enumerate().filter(|(_, n)| **n > 0) {
        table.row([name(wound, colour), ends.to_string(), yarn(*ends)]);
    }
    table.total(["all".to_string(), plan.ends.to_string(), yarn(plan.ends)]);
    let below = table.draw(sheet, (MARGIN, top));
    if plan.broken_pairs == 0 || plan.winding == Winding::Board {
        return below;
    }
    let words = format!(
        "{} loops would be of two colours. There, cut the yarn and tie both ends to the peg, or make the stripes even.",
        plan.broken_pairs
    );
    text::paragraph(sheet, Type::Small, (MARGIN, below + 1.0), sheet.width - 2.0 * MARGIN, &words)
}

fn name(wound: &Wound, colour: usize) -> String {
    wound.colours.get(colour).map_or_else(|| "undyed".to_string(), |c| c.name.clone())
}

/// What is wound before the yarn is changed.
fn passes(wound: &Wound, which: std::ops::Range<usize>) -> Table {
    let plan = wound.plan;
    let peg = plan.winding == Winding::Peg;
    let mut columns = vec![
        Column::new("done", 12.0, Align::Middle),
        Column::new("pass", 12.0, Align::End),
        Column::new("yarn", 34.0, Align::Start),
        Column::new("ends", 30.0, Align::Start),
        Column::new(if peg { "loops" } else { "turns there and back" }, 34.0, Align::End),
        Column::new("single ends", 22.0, Align::End),
    ];
    if peg {
        columns.push(Column::new("slots", 28.0, Align::Start));
    }
    let mut table = Table::new(columns);
    for (n, pass) in plan.passes.iter().enumerate().take(which.end).skip(which.start) {
        let span = |(a, b): (usize, usize)| if a == b { a.to_string() } else { format!("{a} to {b}") };
        let mut row = vec![
            "□".to_string(),
            (n + 1).to_string(),
            text::shortened(Type::Small, &name(wound, pass.colour), 31.0),
            span((pass.from, pass.to)),
            pass.loops.to_string(),
            if pass.singles == 0 { String::new() } else { pass.singles.to_string() },
        ];
        row.extend(pass.slots.map(span));
        table.row(row);
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::weave::heddles::{Hanging, Heddles};
    use crate::weave::warping::{Ask, Panel, plan};
    use crate::weave::{ColourOrder, Weave};

    #[test]
    fn the_sheets_hold_every_pass() {
        let hanging = Hanging::of(&Weave::Plain.draft(), Heddles::rigid(2)).unwrap();
        for (order, winding) in
            [("900 natural", Winding::Peg), ("7 natural 1 indigo", Winding::Board), ("8 natural 4 weld", Winding::Peg)]
        {
            let mut colours = Vec::new();
            let order = ColourOrder::parse(order, &mut colours).unwrap();
            let metres = |m: f64| Q::new(m, &M);
            let panels = vec![
                Panel { name: "body".into(), length: metres(1.5) },
                Panel { name: "sleeves".into(), length: metres(0.8) },
            ];
            let ask = Ask {
                hanging: &hanging,
                colours: &order,
                ends: 908,
                doubled: 0,
                winding,
                length: metres(2.98),
                front: metres(0.18),
                back: metres(0.35),
                panels,
                between: metres(0.05),
            };
            let plan = plan(&ask).unwrap();
            let sheets = sheets(&Wound {
                plan: &plan,
                colours: &colours,
                dressing: None,
                style: Style::Metric,
                paper: Paper::A4,
            });
            let mut boxes = 0;
            for sheet in &sheets {
                extent::walk(&sheet.items, &mut |seen| {
                    if let extent::Seen::Words { text, .. } = seen {
                        boxes += usize::from(text == "□");
                    }
                });
                let e = extent::of(&sheet.items).unwrap();
                assert!(e.x1 < sheet.width - 5.0 && e.y1 < sheet.height - 5.0, "{e:?}");
            }
            // a repeat is ticked as one, once its order is printed
            let ticked = match repeat(&plan) {
                Some(length) => {
                    let whole = (plan.passes.len() - 1) / length;
                    length + whole + plan.passes.len() - whole * length
                }
                None => plan.passes.len(),
            };
            assert_eq!(boxes, ticked, "{} sheets", sheets.len());
            assert!(sheets.len() <= 2, "{} sheets", sheets.len());
        }
    }
}
