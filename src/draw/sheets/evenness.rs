//! The chart of the bobbins: how thick each came out, which belong to warp and weft, and what stripes the cloth would show with
//! the bobbins used one after another and with them taken in turn. Takes what was measured as it is.

use kurbo::{Rect, Shape};

use crate::draw::chart::{Axis, Chart};
use crate::draw::extent;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::text;
use crate::measure::evenness::{self, Bobbin, Order, Shares};
use crate::units::show::number;
use crate::units::{Length, PERCENT, Q, Ratio, TEX};

/// Width of the sheet and height of the chart, in millimetres.
const WIDE: f64 = 170.0;
const HIGH: f64 = 78.0;
/// A band this much thicker than the mean is drawn darkest.
const DARKEST: f64 = 0.15;

/// Where a bobbin goes.
fn place(shares: &Shares, name: u32) -> &'static str {
    let has = |list: &[Bobbin]| list.iter().any(|b| b.name == name);
    if has(&shares.warp) {
        "warp"
    } else if has(&shares.weft) {
        "weft"
    } else {
        "aside"
    }
}

/// Bobbins in the order they were spun, with their mean and a twentieth either way.
pub fn bobbins(bobbins: &[Bobbin], shares: &Shares) -> Sheet {
    let found = evenness::chart(bobbins);
    let odd = found.marks.iter().filter(|m| m.odd).count();
    let describe =
        format!("Counts of {} bobbins in the order they were spun; {odd} not like the others.", bobbins.len());
    let mut sheet = Sheet::new("evenness", "Evenness of the bobbins", &describe, WIDE, HIGH);
    let Some(mean) = found.mean.map(|q| q.get(&TEX)) else {
        sheet.words(Type::Body, Anchor::Start, (4.0, 10.0), "No bobbin has been weighed yet.");
        return sheet;
    };
    let counts: Vec<f64> = bobbins.iter().map(|b| b.count.get(&TEX)).collect();
    let stops = bobbins.iter().enumerate().map(|(i, b)| (i as f64 + 1.0, b.name.to_string()));
    // Names of more than two dozen bobbins would run into each other.
    let every = bobbins.len().div_ceil(24).max(1);
    let stops = stops.step_by(every).collect();
    // Room at the right for the mean's name.
    let last = bobbins.len() as f64;
    let x = Axis::named("bobbin", 0.4, last + 0.6 + 0.2 * last, stops);
    let edges = counts.iter().copied().chain([mean * 0.93, mean * 1.07]);
    let mut chart = Chart::new(Rect::new(0.0, 0.0, WIDE, HIGH), x, Axis::of("tex", edges, false))
        .range(Fill::Doubt, mean * 0.95..=mean * 1.05, false, "within a twentieth")
        .across(Line::Curve, mean, &format!("mean {} tex", number(mean)));
    for (fill, word) in [(Fill::Warp, "warp"), (Fill::Weft, "weft"), (Fill::Ink, "aside")] {
        let here = bobbins.iter().enumerate().filter(|(_, b)| place(shares, b.name) == word);
        chart = chart.dots(fill, here.map(|(i, b)| (i as f64 + 1.0, b.count.get(&TEX))), 1.8);
    }
    for (i, mark) in found.marks.iter().enumerate().filter(|(_, m)| m.odd) {
        let off = number((mark.off.get(&PERCENT)).abs());
        let words = if mark.off.to_si() > 0.0 { format!("{off} % too thick") } else { format!("{off} % too thin") };
        let way = if i * 2 < bobbins.len() { 14.0 } else { -14.0 };
        chart = chart.note((i as f64 + 1.0, mark.bobbin.count.get(&TEX)), (way, 4.0), &words);
    }
    let plot = chart.draw(&mut sheet);
    let y = extent::of(&sheet.items).map_or(HIGH, |e| e.y1) + 4.0;
    key(&mut sheet, shares, plot.area.x0, y);
    extent::fitted(sheet, 4.0)
}

/// What the dots mean, and which bobbins they are.
fn key(sheet: &mut Sheet, shares: &Shares, left: f64, mut y: f64) {
    for (fill, word, list) in
        [(Fill::Warp, "Warp", &shares.warp), (Fill::Weft, "Weft", &shares.weft), (Fill::Ink, "Aside", &shares.aside)]
    {
        if list.is_empty() {
            continue;
        }
        let mut names: Vec<u32> = list.iter().map(|b| b.name).collect();
        names.sort_unstable();
        let names: Vec<String> = names.iter().map(u32::to_string).collect();
        let words = format!("{word}: bobbin{} {}", if names.len() > 1 { "s" } else { "" }, names.join(", "));
        let dot = kurbo::Circle::new((left + 1.8, y + 2.4), 1.8).to_path(0.01);
        sheet.area(fill, Some(Line::Detail), dot);
        y = text::paragraph(sheet, Type::Body, (left + 6.0, y), WIDE - left - 10.0, &words) + 1.0;
    }
}

/// The stripes of two orders, one above the other, darker where the yarn is thicker.
///
/// `place` is "the warp" or "the weft"; `thread` the length of one end or pick.
pub fn stripes(place: &str, bobbins: &[Bobbin], thread: Q<Length>, order: &Order) -> Sheet {
    let describe = "Bands of cloth, darker where the yarn is thicker: bobbins one after another, and taken in turn.";
    let title = format!("Stripes of {place}, and the order that hides them");
    let mut sheet = Sheet::new("stripes", &title, describe, WIDE, 70.0);
    let say = |step: Q<Ratio>| format!("greatest step {} %", number(step.get(&PERCENT)));
    let as_spun = evenness::one_after_another(bobbins, thread);
    let mut y = strip(
        &mut sheet,
        "One bobbin after another",
        &say(order.step_as_spun),
        &evenness::bands(&as_spun, bobbins),
        2.0,
    );
    y = strip(&mut sheet, "Taken in turn", &say(order.step), &evenness::bands(&order.threads, bobbins), y + 4.0);
    let groups: Vec<String> =
        order.groups.iter().map(|g| g.iter().map(u32::to_string).collect::<Vec<_>>().join(" and ")).collect();
    let together = if order.groups.iter().any(|group| group.len() > 1) {
        "In hand together, thread by thread in turn"
    } else {
        "One after another"
    };
    let words = format!("{together}, in this order: {}. An eye sees a step of about 3 %.", groups.join("; then "));
    text::paragraph(&mut sheet, Type::Body, (0.0, y + 3.0), WIDE, &words);
    extent::fitted(sheet, 4.0)
}

/// Most bands drawn: beyond it neighbours are drawn as one.
const MOST: usize = 400;

fn strip(sheet: &mut Sheet, name: &str, note: &str, bands: &[Q<Ratio>], top: f64) -> f64 {
    sheet.words(Type::Strong, Anchor::Start, (0.0, text::base(Type::Strong, top)), name);
    sheet.words(Type::Body, Anchor::End, (WIDE, text::base(Type::Body, top)), note);
    let (y0, y1) = (top + 6.0, top + 24.0);
    let each = bands.len().div_ceil(MOST).max(1);
    let wide = WIDE / bands.len().max(1) as f64;
    for (i, part) in bands.chunks(each).enumerate() {
        let off = part.iter().map(|q| q.to_si()).sum::<f64>() / part.len() as f64;
        // Middle grey is the mean; thicker yarn is darker.
        let shade = (175.0 - 105.0 * (off / DARKEST).clamp(-0.7, 1.0)) as u8;
        let x0 = (i * each) as f64 * wide;
        // Each reaches under the next, or the paper shows between them.
        let x1 = (x0 + (part.len() + 1) as f64 * wide).min(WIDE);
        let area = Rect::new(x0, y0, x1, y1).to_path(0.1);
        sheet.area(Fill::Rgb(shade, shade, shade), None, area);
    }
    sheet.rect(Line::Axis, Rect::new(0.0, y0, WIDE, y1));
    y1
}
