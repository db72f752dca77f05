//! Printable sample cards: what was measured of a skein, bobbin or swatch, with room to tie or sew the thing itself on. Four to
//! a page, to be cut apart and hung on the spinner or the loom.

use super::kinds::{Form, field_named};
use super::store::Entry;
use crate::draw::sheet::{Anchor, Draw, Line, Point, Rect, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{FOOT, MARGIN, Paper, foot, page};
use crate::units::show::{Style, of};
use crate::units::{LinearDensity, Q, TEX};

/// What stands on a card.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Number of the entry.
    pub id: i64,
    /// "Sample skein 4".
    pub title: String,
    /// Day it happened.
    pub day: String,
    /// What follows from this entry alone, with its words.
    pub results: Vec<(String, String)>,
    /// What was measured, as typed.
    pub lines: Vec<(String, String)>,
    /// What belongs on the empty part.
    pub place: &'static str,
}

/// Kinds a card makes sense of.
const PLACES: [(&str, &str); 5] = [
    ("skein", "Wind a few turns here, one loose end to ply back on itself."),
    ("bobbin", "Wind a few turns of this bobbin here."),
    ("swatch", "Sew the swatch on here, washed half beside unwashed."),
    ("strip", "Pin the printed strip here."),
    ("fibre", "Tie a lock of it on here."),
];

/// The card of an entry, if its kind has one. Break loads and twists are given as their number and range.
pub fn card(entry: &Entry) -> Option<Card> {
    let place = PLACES.iter().find(|(name, _)| *name == entry.kind)?.1;
    let title = match (entry.kind.as_str(), entry.typed("bobbin").or(entry.typed("warp"))) {
        ("skein", Some(n)) => format!("Sample skein, bobbin {n}"),
        ("bobbin", Some(n)) => format!("Bobbin {n}"),
        ("swatch", Some(n)) => format!("Swatch, warp {n}"),
        ("strip", _) => "Print test strip".to_string(),
        _ => format!("Fibre, after {}", entry.typed("stage").unwrap_or("weighing")),
    };
    let results = follows(entry);
    let mut lines: Vec<(String, String)> = Vec::new();
    for (name, list) in &entry.figures {
        let Some(field) = field_named(name).filter(|f| !["bobbin", "warp", "stage"].contains(&f.name)) else {
            continue;
        };
        let typed = if let Form::Quantity(_) = field.form { many(list) } else { list[0].typed.clone() };
        lines.push((field.words.to_string(), typed));
    }
    let day = entry.happened.to_string().chars().take(10).collect();
    Some(Card { id: entry.id, title, day, results, lines, place })
}

/// Values as typed, or how many and from what to what.
fn many(list: &[super::draft::Figure]) -> String {
    let by_size =
        |a: &&super::draft::Figure, b: &&super::draft::Figure| a.si.unwrap_or(0.0).total_cmp(&b.si.unwrap_or(0.0));
    match (list.iter().min_by(by_size), list.iter().max_by(by_size)) {
        (Some(least), Some(most)) if list.len() > 3 => {
            format!("{}, from {} to {}", list.len(), least.typed, most.typed)
        }
        _ => list.iter().map(|f| f.typed.as_str()).collect::<Vec<_>>().join(", "),
    }
}

/// What one entry says by division.
fn follows(entry: &Entry) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    let mut count = |words: &str, mass: Option<f64>, length: Option<f64>| {
        if let (Some(mass), Some(length)) = (mass, length)
            && length > 0.0
        {
            let count: Q<LinearDensity> = Q::si(mass / length);
            lines.push((words.to_string(), of(count, &TEX, Style::Metric)));
        }
    };
    count("count, washed", entry.si("mass"), entry.si("after_washing"));
    count("count, as counted", entry.si("mass"), entry.si("counted"));
    count("count of the check", entry.si("check_mass"), entry.si("check_length"));
    let mut lost = |words: &str, before: &str, after: &str| {
        if let (Some(a), Some(b)) = (entry.si(before), entry.si(after))
            && a > 0.0
        {
            lines.push((words.to_string(), format!("{:.1} %", (1.0 - b / a) * 100.0)));
        }
    };
    lost("lost in the wash", "counted", "after_washing");
    lost("lost at this stage", "before", "after");
    lost("drawn in", "in_reed", "width_off_loom");
    lost("shrunk in width", "width_off_loom", "width_washed");
    lost("relaxed off the loom", "length_on_loom", "length_off_loom");
    lost("shrunk in length", "length_off_loom", "length_washed");
    lost("taken up, warp", "warp_thread", "warp_cloth");
    lost("taken up, weft", "weft_thread", "weft_cloth");
    lines
}

/// Cards on as many pages as they need, two across and two down.
pub fn pages(cards: &[Card], paper: Paper) -> Vec<Sheet> {
    cards.chunks(4).enumerate().map(|(i, four)| one_page(four, i + 1, paper)).collect()
}

fn one_page(cards: &[Card], number: usize, paper: Paper) -> Sheet {
    let name = format!("cards {number}");
    let mut sheet = page(paper, &name, "Sample cards", "Sample cards to cut apart, with room to tie the sample on.");
    let (wide, high) = ((sheet.width - 2.0 * MARGIN) / 2.0, (sheet.height - 2.0 * MARGIN - FOOT) / 2.0);
    for (i, card) in cards.iter().enumerate() {
        let at = Point::new(MARGIN + (i % 2) as f64 * wide, MARGIN + (i / 2) as f64 * high);
        draw(&mut sheet, card, Rect::from_origin_size(at, (wide, high)));
    }
    foot(&mut sheet, "Cut apart along the lines");
    sheet
}

/// Room inside a card's edge.
const INSET: f64 = 6.0;

/// One line of a card at the top of `room`; gives the y below it, or nothing when there is no room.
fn line(sheet: &mut Sheet, kind: Type, room: Rect, words: &str, value: &str) -> Option<f64> {
    // A short value leaves the words more room.
    let value_wide = text::width(kind, value).min(room.width() * 0.55);
    let values = text::wrap(kind, value, value_wide + 0.1);
    let words = text::wrap(kind, words, room.width() - value_wide - 3.0);
    let below = room.y0 + values.len().max(words.len()) as f64 * text::leading(kind);
    if below > room.y1 {
        return None;
    }
    for (at, anchor, lines) in [(room.x0, Anchor::Start, words), (room.x1, Anchor::End, values)] {
        for (k, line) in lines.into_iter().enumerate() {
            sheet.words(kind, anchor, (at, text::base(kind, room.y0 + k as f64 * text::leading(kind))), line);
        }
    }
    sheet.line(Line::Grid, (room.x0, below + 0.4), (room.x1, below + 0.4));
    Some(below + 0.8)
}

fn draw(sheet: &mut Sheet, card: &Card, frame: Rect) {
    sheet.rect(Line::Cut, frame);
    let (left, wide) = (frame.x0 + INSET, frame.width() - 2.0 * INSET);
    // The hole to hang it by.
    sheet.circle(Line::Detail, (frame.x1 - INSET - 2.0, frame.y0 + INSET + 2.0), 2.5);
    let mut y = text::paragraph(sheet, Type::Heading, (left, frame.y0 + INSET), wide - 12.0, &card.title);
    y = text::paragraph(sheet, Type::Small, (left, y), wide, &format!("entry {} · {}", card.id, card.day)) + 2.0;
    let foot_of_lines = frame.y0 + frame.height() * 0.7;
    let mut left_out = 0;
    let lines = card.results.iter().map(|l| (Type::Strong, l)).chain(card.lines.iter().map(|l| (Type::Small, l)));
    for (kind, (words, value)) in lines {
        match line(sheet, kind, Rect::new(left, y, left + wide, foot_of_lines), words, value) {
            Some(below) => y = below,
            None => left_out += 1,
        }
    }
    if left_out > 0 {
        text::paragraph(sheet, Type::Note, (left, y), wide, &format!("{left_out} more in the log"));
    }
    let place = Rect::new(left, foot_of_lines + 4.0, left + wide, frame.y1 - INSET);
    sheet.rect(Line::Fold, place);
    text::paragraph(sheet, Type::Note, (place.x0 + 2.0, place.y0 + 1.5), place.width() - 4.0, card.place);
}
