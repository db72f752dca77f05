//! Every board and rod with its cuts, the bound no cutting can beat, and the shopping list.

use kurbo::{Rect, Shape};

use crate::chain::machines::Buying;
use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::cutting::{Board, Counted};
use crate::machine::shopping::{Job, Shopping, Whose};
use crate::units::ruler::Ruler;
use crate::units::{FOOT, KG, LB, Length, M, MM, Mass, Q};

/// Height of a drawn board and of a job's heading.
const BOARD: f64 = 7.0;
const ROW: f64 = 16.5;
const HEAD: f64 = 13.0;

/// Cutting pages, then the shopping list.
pub fn sheets(buying: &Buying) -> Vec<Sheet> {
    let shopping = &buying.shopping;
    let mut pages = Pages { out: Vec::new(), y: f64::INFINITY, ruler: shopping.system.ruler() };
    for job in &shopping.jobs {
        pages.job(job);
    }
    pages.finish();
    pages.out.extend(buy(shopping, &notes(buying)));
    pages.out
}

/// What the list leaves out, in sentences.
fn notes(buying: &Buying) -> Vec<String> {
    let (_, unpriced) = buying.shopping.so_far();
    let mut out = Vec::new();
    if buying.shopping.money.is_none() {
        out.push("Nothing here is priced: state `money`, `loom.stock[].price` for boards and rods, `loom.bought[]` and `spinner.bought[]` for the rest.".to_string());
    } else if unpriced > 0 {
        out.push(format!(
            "{unpriced} of {} lines are unpriced: the sum counts the others only.",
            buying.shopping.lines.len()
        ));
    }
    if !buying.without.is_empty() {
        out.push(format!("Not in this list, because it cannot be built as planned: {}.", buying.without.join("; ")));
    }
    if !buying.unused.is_empty() {
        out.push(format!("In your plan, but not in this list: {}.", buying.unused.join("; ")));
    }
    out
}

struct Pages {
    out: Vec<Sheet>,
    y: f64,
    ruler: Ruler,
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
            let lead = format!(
                "{} Saw from left to right. Measure each piece from the last cut, not all from the end: the kerf is counted. Letters mark parts of the loom, bare numbers those of the spinner.",
                self.ruler.said()
            );
            self.y = title::head(&mut s, &lead);
            self.out.push(s);
        }
        let last = self.out.len() - 1;
        &mut self.out[last]
    }
    fn job(&mut self, job: &Job) {
        let (patterns, ruler) = (job.patterns(), self.ruler);
        self.room(HEAD + ROW);
        let y = self.y;
        let s = self.room(0.0);
        s.words(Type::Strong, Anchor::Start, (MARGIN, text::base(Type::Strong, y)), job.title.clone());
        s.words(Type::Small, Anchor::Start, (MARGIN, text::base(Type::Small, y + 4.8)), proof(job, ruler));
        self.y += HEAD;
        let longest = job.stock.iter().map(|b| b.length.get(&MM)).fold(1.0, f64::max);
        for (n, board) in patterns {
            self.room(ROW);
            let y = self.y;
            draw_board(self.room(0.0), y, job, (n, board), (longest, ruler));
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
fn proof(job: &Job, ruler: Ruler) -> String {
    let c = &job.cutting;
    let (unit, digits, each) = match c.counted {
        Counted::Boards => ("boards", 0, 1.0),
        Counted::Metres => ruler.of(("m of it", 1, 1.0), ("ft of it", 0, Q::<Length>::new(1.0, &M).get(&FOOT))),
        Counted::Price => ("in money", 2, 1.0),
    };
    let standing = if c.is_proved() { "no cutting needs less" } else { "the least is not proved" };
    let missing: u32 = c.missing.iter().map(|m| m.1).sum();
    let short = if missing > 0 { format!("; NO BOARD for {missing} pieces") } else { String::new() };
    let (kerf, trim) = (job.saw.kerf.get(&MM), job.saw.trim.get(&MM));
    let trim = if trim > 0.0 { format!(", {} trimmed from each end", ruler.about(trim)) } else { String::new() };
    let kerf = ruler.says_fine(kerf);
    let (cost, bound, plain) = (c.cost * each, c.bound * each, c.plain_rule * each);
    format!(
        "{cost:.digits$} {unit}; bound {bound:.2}: {standing}. Longest-first would take {plain:.digits$}. Kerf {kerf}{trim}{short}.",
    )
}

fn draw_board(s: &mut Sheet, y: f64, job: &Job, (n, board): (u32, &Board), (longest, ruler): (f64, Ruler)) {
    let room = s.width - 2.0 * MARGIN - 30.0;
    let (x0, scale) = (MARGIN + 28.0, room / longest);
    let stock = &job.stock[board.stock];
    let long = stock.length.get(&MM);
    s.words(Type::Strong, Anchor::End, (x0 - 3.0, y + 3.6), format!("{n} ×"));
    s.words(Type::Note, Anchor::End, (x0 - 3.0, y + 7.4), stock.name.clone());
    s.area(Fill::Loss, Some(Line::Outline), Rect::new(x0, y, x0 + long * scale, y + BOARD).to_path(0.1));
    let (kerf, trim) = (job.saw.kerf.get(&MM), job.saw.trim.get(&MM));
    let mut at = trim;
    let mut narrow: Vec<String> = Vec::new();
    for cut in &board.cuts {
        let piece = &job.pieces[*cut];
        let length = piece.length.get(&MM);
        let words = ruler.bare(length);
        let r = Rect::new(x0 + at * scale, y, x0 + (at + length) * scale, y + BOARD);
        s.area(Fill::Part, Some(Line::Detail), r.to_path(0.1));
        let marked = r.width() > text::width(Type::Strong, &piece.mark) + 0.6;
        if marked {
            s.words(Type::Strong, Anchor::Middle, (r.center().x, r.center().y + 1.2), piece.mark.clone());
        }
        if marked && r.width() > text::width(Type::Figure, &words) + 1.0 {
            s.words(Type::Figure, Anchor::Middle, (r.center().x, y + BOARD + 3.6), words);
        } else {
            narrow.push(format!("{} is {words}", piece.mark));
        }
        at += length + kerf;
        s.line(Line::Cut, (r.x1 + kerf * scale / 2.0, y - 1.0), (r.x1 + kerf * scale / 2.0, y + BOARD + 1.0));
    }
    if !narrow.is_empty() {
        let words = format!("too narrow to write in, in this order: {}", narrow.join(", "));
        s.words(Type::Note, Anchor::Start, (x0, y + BOARD + 7.0), words);
    }
    let left = board.offcut.get(&MM);
    if left * scale > 12.0 {
        let x = x0 + (long - trim - left / 2.0) * scale;
        s.words(Type::Note, Anchor::Middle, (x, y + BOARD + 3.6), format!("{} left", ruler.bare(left)));
    }
}

fn buy(shopping: &Shopping, notes: &[String]) -> Vec<Sheet> {
    let money = shopping.money.as_deref();
    let ruler = shopping.system.ruler();
    let heft = |mass: Q<Mass>| ruler.of(mass.get(&KG), mass.get(&LB));
    let mut table = Table::new(vec![
        Column::new("mark", 14.0, Align::Start),
        Column::new("what", 122.0, Align::Start),
        Column::new("how many", 18.0, Align::Middle),
        Column::new(ruler.of("kg", "lb"), 14.0, Align::Point),
        Column::new(money.unwrap_or("price"), 22.0, Align::Point),
    ]);
    for whose in Whose::ALL {
        let lines: Vec<_> = shopping.lines.iter().filter(|l| l.whose == whose).collect();
        if lines.is_empty() {
            continue;
        }
        table.part(whose.words());
        for line in lines {
            let mass = heft(line.mass);
            let none = if money.is_some() { "unpriced" } else { "" };
            table.row([
                line.mark.clone(),
                line.words.clone(),
                line.how_many.to_string(),
                if mass > 0.005 { format!("{mass:.2}") } else { String::new() },
                line.price.map_or(none.to_string(), |p| format!("{p:.2}")),
            ]);
        }
    }
    let all: f64 = shopping.lines.iter().map(|l| heft(l.mass)).sum();
    let (sum, unpriced) = shopping.so_far();
    let words = if money.is_some() && unpriced > 0 { "all that is priced" } else { "all" };
    let sum = if money.is_some() { format!("{sum:.2}") } else { String::new() };
    table.total(["", words, "", &format!("{all:.1}"), &sum]);
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
            let mut low = part.draw(&mut s, (MARGIN, top)) + 4.0;
            if i + 1 == parts.len() {
                for words in notes {
                    low = text::paragraph(&mut s, Type::Body, (MARGIN, low), 190.0, words) + 1.6;
                }
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
    use crate::machine::shopping::{Needs, Price, Terms, list};
    use crate::trade::stock::System;

    fn words(sheets: &[Sheet]) -> Vec<String> {
        let mut out = Vec::new();
        for sheet in sheets {
            extent::walk(&sheet.items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    out.push(text.to_string());
                }
            });
        }
        out
    }

    fn buying(terms: &Terms) -> Buying {
        let loom = design(&tern_bay()).unwrap();
        let shopping = list(&Needs { loom: &loom.parts, ..Needs::default() }, terms).unwrap();
        Buying { shopping, unused: vec!["plank, 900 mm".into()], without: vec!["the spinner (no such pulley)".into()] }
    }

    #[test]
    fn every_board_is_drawn_inside_the_paper() {
        let buying = buying(&Terms::plain(System::Metric));
        let all = sheets(&buying);
        for sheet in &all {
            let e = extent::of(&sheet.items).unwrap();
            assert!(e.x0 > 4.0 && e.x1 < sheet.width - 4.0 && e.y1 < sheet.height - 4.0, "{} {e:?}", sheet.name);
        }
        let words = words(&all);
        let boards: usize =
            words.iter().filter_map(|w| w.strip_suffix(" ×").and_then(|n| n.parse::<usize>().ok())).sum();
        assert_eq!(boards, buying.shopping.jobs.iter().map(|j| j.cutting.boards.len()).sum::<usize>());
        for said in ["Nothing here is priced", "no such pulley", "plank, 900 mm"] {
            assert!(words.iter().any(|w| w.contains(said)), "{said}: {words:?}");
        }
    }

    #[test]
    fn what_has_no_price_is_said_to_have_none() {
        let mut terms = Terms::plain(System::Metric);
        terms.money = Some("EUR".into());
        terms.prices = vec![Price { whose: Whose::Loom, mark: "C4".into(), price: 0.5 }];
        let buying = buying(&terms);
        let words = words(&sheets(&buying));
        let unpriced = words.iter().filter(|w| *w == "unpriced").count();
        assert_eq!(unpriced, buying.shopping.lines.len() - 1);
        assert!(words.iter().any(|w| w.contains("lines are unpriced")));
        assert!(words.contains(&"EUR".to_string()));
    }
}
