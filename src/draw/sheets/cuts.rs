//! Every board and rod with its cuts, the bound no cutting can beat, and the shopping list.

use kurbo::{Rect, Shape};

use super::view;
use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::cutting::{Board, Counted};
use crate::machine::shopping::{Job, Shopping};
use crate::trade::stock::System;
use crate::units::{FOOT, KG, Length, M, MM, Q};

/// Height of a drawn board and of a job's heading.
const BOARD: f64 = 7.0;
const ROW: f64 = 15.0;
const HEAD: f64 = 13.0;

/// Cutting pages, then the shopping list.
pub fn sheets(shopping: &Shopping, unused: &[String]) -> Vec<Sheet> {
    let mut pages = Pages { out: Vec::new(), y: f64::INFINITY, inches: shopping.system == System::Inch };
    for job in &shopping.jobs {
        pages.job(job);
    }
    pages.finish();
    pages.out.extend(buy(shopping, unused));
    pages.out
}

struct Pages {
    out: Vec<Sheet>,
    y: f64,
    inches: bool,
}

impl Pages {
    fn bottom() -> f64 {
        Paper::A4.size().1 - MARGIN - title::FOOT - 2.0
    }
    /// The page with room for `high` more, a new one if need be.
    fn room(&mut self, high: f64) -> &mut Sheet {
        if self.y + high > Self::bottom() || self.out.is_empty() {
            let n = self.out.len() + 1;
            let name = if n == 1 { "cuts".to_string() } else { format!("cuts-{n}") };
            let describe = "Boards and rods with their cuts drawn to scale along their length.";
            let mut s = title::page(Paper::A4, &name, "Cut these boards and rods", describe);
            let lead = if self.inches {
                "Inches. Saw from left to right. Measure each piece from the last cut, not all from the end: the kerf is counted."
            } else {
                "Millimetres. Saw from left to right. Measure each piece from the last cut, not all from the end: the kerf is counted."
            };
            self.y = title::head(&mut s, lead);
            self.out.push(s);
        }
        let last = self.out.len() - 1;
        &mut self.out[last]
    }
    fn job(&mut self, job: &Job) {
        let (patterns, inches) = (job.patterns(), self.inches);
        self.room(HEAD + ROW);
        let y = self.y;
        let s = self.room(0.0);
        s.words(Type::Strong, Anchor::Start, (MARGIN, text::base(Type::Strong, y)), job.title.clone());
        s.words(Type::Small, Anchor::Start, (MARGIN, text::base(Type::Small, y + 4.8)), proof(job, inches));
        self.y += HEAD;
        let longest = job.stock.iter().map(|b| b.length.get(&MM)).fold(1.0, f64::max);
        for (n, board) in patterns {
            self.room(ROW);
            let y = self.y;
            draw_board(self.room(0.0), y, job, (n, board), (longest, inches));
            self.y += ROW;
        }
        self.y += 2.0;
    }
    fn finish(&mut self) {
        let hazards = [Hazard::Blades, Hazard::Dust];
        let high = caution::height(190.0, &hazards);
        self.room(high);
        let y = self.y;
        caution::draw(self.room(0.0), (MARGIN, y), 190.0, &hazards);
        self.out.iter_mut().for_each(|s| title::foot(s, ""));
    }
}

/// What the answer is, what the everyday rule would take, and the bound.
fn proof(job: &Job, inches: bool) -> String {
    let c = &job.cutting;
    let (unit, digits, each) = match c.counted {
        Counted::Boards => ("boards", 0, 1.0),
        Counted::Metres if inches => ("ft of it", 0, Q::<Length>::new(1.0, &M).get(&FOOT)),
        Counted::Metres => ("m of it", 1, 1.0),
        Counted::Price => ("in money", 2, 1.0),
    };
    let standing = if c.is_proved() { "no cutting needs less" } else { "the least is not proved" };
    let missing: u32 = c.missing.iter().map(|m| m.1).sum();
    let short = if missing > 0 { format!("; NO BOARD for {missing} pieces") } else { String::new() };
    let (kerf, trim) = (job.saw.kerf.get(&MM), job.saw.trim.get(&MM));
    let trim = if trim > 0.0 { format!(", {trim:.0} mm trimmed from each end") } else { String::new() };
    let (cost, bound, plain) = (c.cost * each, c.bound * each, c.plain_rule * each);
    format!(
        "{cost:.digits$} {unit}; bound {bound:.2}: {standing}. Longest-first would take {plain:.digits$}. Kerf {kerf:.1} mm{trim}{short}.",
    )
}

fn draw_board(s: &mut Sheet, y: f64, job: &Job, (n, board): (u32, &Board), (longest, inches): (f64, bool)) {
    let room = s.width - 2.0 * MARGIN - 30.0;
    let (x0, scale) = (MARGIN + 28.0, room / longest);
    let stock = &job.stock[board.stock];
    let long = stock.length.get(&MM);
    s.words(Type::Strong, Anchor::End, (x0 - 3.0, y + 3.6), format!("{n} ×"));
    s.words(Type::Note, Anchor::End, (x0 - 3.0, y + 7.4), stock.name.clone());
    s.area(Fill::Loss, Some(Line::Outline), Rect::new(x0, y, x0 + long * scale, y + BOARD).to_path(0.1));
    let (kerf, trim) = (job.saw.kerf.get(&MM), job.saw.trim.get(&MM));
    let mut at = trim;
    for cut in &board.cuts {
        let piece = &job.pieces[*cut];
        let length = piece.length.get(&MM);
        let words = view::length(length, inches);
        let r = Rect::new(x0 + at * scale, y, x0 + (at + length) * scale, y + BOARD);
        s.area(Fill::Part, Some(Line::Detail), r.to_path(0.1));
        if r.width() > text::width(Type::Strong, &piece.mark) + 0.6 {
            s.words(Type::Strong, Anchor::Middle, (r.center().x, r.center().y + 1.2), piece.mark.clone());
        }
        if r.width() > text::width(Type::Figure, &words) + 1.0 {
            s.words(Type::Figure, Anchor::Middle, (r.center().x, y + BOARD + 3.6), words);
        }
        at += length + kerf;
        s.line(Line::Cut, (r.x1 + kerf * scale / 2.0, y - 1.0), (r.x1 + kerf * scale / 2.0, y + BOARD + 1.0));
    }
    let left = board.offcut.get(&MM);
    if left * scale > 12.0 {
        let x = x0 + (long - trim - left / 2.0) * scale;
        s.words(Type::Note, Anchor::Middle, (x, y + BOARD + 3.6), format!("{} left", view::length(left, inches)));
    }
}

fn buy(shopping: &Shopping, unused: &[String]) -> Vec<Sheet> {
    let money = shopping.money.clone();
    let mut table = Table::new(vec![
        Column::new("mark", 14.0, Align::Start),
        Column::new("what", 124.0, Align::Start),
        Column::new("how many", 18.0, Align::Middle),
        Column::new("kg", 14.0, Align::Point),
        Column::new(money.as_deref().unwrap_or("price"), 20.0, Align::Point),
    ]);
    for line in &shopping.lines {
        let kg = line.mass.get(&KG);
        table.row([
            line.mark.clone(),
            line.words.clone(),
            line.how_many.to_string(),
            if kg > 0.005 { format!("{kg:.2}") } else { String::new() },
            line.price.map_or(String::new(), |p| format!("{p:.2}")),
        ]);
    }
    let kg: f64 = shopping.lines.iter().map(|l| l.mass.get(&KG)).sum();
    let (sum, unpriced) = shopping.so_far();
    let all =
        if money.is_some() && unpriced > 0 { format!("all; {unpriced} lines have no price yet") } else { "all".into() };
    let sum = if money.is_some() { format!("{sum:.2}") } else { String::new() };
    table.total(["", &all, "", &format!("{kg:.1}"), &sum]);
    let describe = "What to buy: boards, rods, sheets and bought parts, with mass and price.";
    let (_, tall) = Paper::A4.size();
    let parts = table.split(tall - 80.0);
    (parts.iter().enumerate())
        .map(|(i, part)| {
            let name = if i == 0 { "shopping".to_string() } else { format!("shopping-{}", i + 1) };
            let mut s = title::page(Paper::A4, &name, "Buy or find this", describe);
            let top = title::head(
                &mut s,
                "Mass counts whole boards as bought. Choose straight, dry, knot-free boards for beams, bars and rails.",
            );
            let low = part.draw(&mut s, (MARGIN, top));
            if i + 1 == parts.len() && !unused.is_empty() {
                let words = format!("In your plan, but no part is made of it: {}.", unused.join("; "));
                text::paragraph(&mut s, Type::Body, (MARGIN, low + 4.0), 190.0, &words);
            }
            title::foot(&mut s, "");
            s
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::loom::{design, tests::tern_bay};
    use crate::machine::shopping::{Terms, list};
    use crate::trade::stock::System;

    #[test]
    fn every_board_is_drawn_inside_the_paper() {
        let loom = design(&tern_bay()).unwrap();
        let shopping = list(&loom.parts, &Terms::plain(System::Metric)).unwrap();
        let all = sheets(&shopping, &["plank, 900 mm".into()]);
        let mut boards = 0;
        for sheet in &all {
            let e = extent::of(&sheet.items).unwrap();
            assert!(e.x0 > 4.0 && e.x1 < sheet.width - 4.0 && e.y1 < sheet.height - 4.0, "{} {e:?}", sheet.name);
            extent::walk(&sheet.items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    boards += text.strip_suffix(" ×").and_then(|n| n.parse::<usize>().ok()).unwrap_or(0);
                }
            });
        }
        assert_eq!(boards, shopping.jobs.iter().map(|j| j.cutting.boards.len()).sum::<usize>());
    }
}
