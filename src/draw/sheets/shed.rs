//! The shed from the side: which threads move, where the shuttle runs, how much room it has at both ends of a weave.

use kurbo::{Point, Rect};

use super::view::{View, fitting};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN};
use crate::formulas::loom as f;
use crate::machine::loom::{HEDDLE_SPACING, Loom};
use crate::units::{Force, N, Q, show};

/// What the sheet writes besides the loom's own sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threads {
    /// Load of an end at rest and with the shed open, and what breaks it, cN.
    pub rest: f64,
    pub open: f64,
    pub breaks: f64,
    /// Force on the hands to lift the eyes of rigid heddles.
    pub lift: Option<Q<Force>>,
    /// How far the fell runs towards the heddle before the cloth is wound on, mm.
    pub advance: f64,
    /// Room between the shuttle and the heddle, mm.
    pub clear: f64,
}

/// What moves and what stays, by the kind of heddle.
struct Kind {
    lead: &'static str,
    moved: &'static str,
    stays: &'static str,
    down: Option<&'static str>,
    one: &'static str,
    other: &'static str,
    opening: &'static str,
}

fn kind(loom: &Loom) -> Kind {
    if loom.wish.heddle.wish.shafts().is_some() {
        return Kind {
            lead: "Raised shafts carry their threads up, the others stay: the shed opens by the lift.",
            moved: "threads of raised shafts",
            stays: "threads of the others",
            down: None,
            one: "A raised thread",
            other: "one that rests",
            opening: "The opening of a shaft is",
        };
    }
    Kind {
        lead: "Eye threads move with the heddle, slot threads stay: the shed opens by the lift, not by twice the lift.",
        moved: "eye threads",
        stays: "slot threads",
        down: Some("eye threads, heddle down"),
        one: "An eye thread",
        other: "a slot thread",
        opening: "Slots are",
    }
}

/// From the breast bar's middle to the fell just wound on.
const BEFORE: f64 = 60.0;

/// One place of the fell.
struct Opening {
    name: &'static str,
    /// Fell to heddle.
    depth: f64,
    /// Fell to the shuttle's near edge.
    edge: f64,
    room: f64,
}

fn openings(loom: &Loom, t: &Threads) -> [Opening; 2] {
    let (a, h, w) = (mm_of(loom.wish.fell_to_heddle), mm_of(loom.wish.lift), mm_of(loom.wish.shuttle_width));
    let at = |name, depth: f64| {
        let edge = (f::SHUTTLE_EDGE.code)([depth, w, t.clear]).max(0.0);
        Opening { name, depth, edge, room: (f::SHED_OPENING.code)([h, edge, depth]) }
    };
    [at("cloth just wound on", a), at("just before winding on", a - t.advance)]
}

fn mm_of(q: crate::units::Q<crate::units::Length>) -> f64 {
    q.get(&crate::units::MM)
}

/// The sheet, A4 on its side.
pub fn sheet(loom: &Loom, threads: &Threads) -> Sheet {
    let describe = "The shed from the side, to scale: eye threads up, slot threads level, the shuttle between them.";
    let mut s = Sheet::new("shed", "The shed", describe, 297.0, 210.0);
    let top = title::head(&mut s, kind(loom).lead);
    let (a, b) = (mm_of(loom.wish.fell_to_heddle), mm_of(loom.wish.heddle_to_back));
    let high = loom.wish.heddle.wish.slot_height + 60.0;
    let front = BEFORE + loom.layout.bar_deep / 2.0;
    let scale = fitting((front + a + b + loom.layout.bar_deep / 2.0, high), (277.0 - 8.0, 76.0));
    s.scale = Some(scale);
    let view = View::new(MARGIN + 4.0 + front * scale, top + 16.0 + high * 0.55 * scale, scale)
        .written(loom.wish.system.ruler());
    picture(&mut s, &view, loom, threads);
    let y = view.origin.y + high * 0.5 * scale + 14.0;
    words(&mut s, y, loom, threads);
    title::foot(&mut s, "");
    s
}

/// The fell is the origin, towards the back is right, the neutral warp line is level.
fn picture(s: &mut Sheet, v: &View, loom: &Loom, t: &Threads) {
    let w = &loom.wish;
    let (a, b, h) = (mm_of(w.fell_to_heddle), mm_of(w.heddle_to_back), mm_of(w.lift));
    let (bar, deep) = (loom.layout.bar, loom.layout.bar_deep);
    v.part(s, Fill::Part, (-BEFORE - deep / 2.0, -bar), (deep / 2.0 - BEFORE, 0.0));
    v.part(s, Fill::Part, (a + b - deep / 2.0, -bar), (a + b + deep / 2.0, 0.0));
    v.part(s, Fill::Weft, (-BEFORE, -0.6), (0.0, 0.6));
    frames(s, v, loom);
    let kind = kind(loom);
    // The second place of the heddle and of the fell, faint.
    if kind.down.is_some() {
        v.trace(s, Line::Ghost, &[(0.0, 0.0), (a, -h), (a + b, 0.0)]);
    }
    v.trace(s, Line::Second, &[(0.0, 0.0), (a + b, 0.0)]);
    let last = a + HEDDLE_SPACING * f64::from(w.heddle.wish.frames() - 1);
    v.trace(s, Line::Curve, &[(0.0, 0.0), (last, h * last / a), (a + b, 0.0)]);
    shuttle(s, v, loom, t);
    v.line(s, Line::Doubt, (t.advance, -12.0), (t.advance, h * 0.9));
    let over = |x: f64| h * last / a * (a + b - x) / (a + b - last);
    let lines = [
        (kind.moved, (a + b * 0.45, over(a + b * 0.45)), 2.0),
        (kind.stays, (a + b * 0.34, 0.0), -3.6),
        (kind.down.unwrap_or(""), (a + b * 0.3, -h * 0.7), -3.8),
    ];
    for (word, at, up) in lines.into_iter().filter(|(word, ..)| !word.is_empty()) {
        let p = v.at(at.0, at.1);
        s.words(Type::Small, Anchor::Start, (p.x + 2.0, p.y - up), word);
    }
    measures(s, v, loom, t);
}

/// Every heddle or shaft: rigid ones both lifted, of shafts the first and the last.
fn frames(s: &mut Sheet, v: &View, loom: &Loom) {
    let w = &loom.wish;
    let (a, h) = (mm_of(w.fell_to_heddle), mm_of(w.lift));
    let half = w.heddle.wish.slot_height / 2.0;
    let (n, shafts) = (w.heddle.wish.frames(), w.heddle.wish.shafts().is_some());
    for i in 0..n {
        let x = a + HEDDLE_SPACING * f64::from(i);
        // Clean sheds need the second heddle lifted a little more.
        let lift = if shafts && i > 0 && i + 1 < n { 0.0 } else { h * x / a };
        for (low, high) in [(half, half + 16.0), (-half - 16.0, -half)] {
            v.part(s, Fill::Part, (x - 1.5, lift + low), (x + 1.5, lift + high));
            v.part(s, Fill::Part, (x - 9.0, lift + low.max(-half - 16.0)), (x - 1.5, lift + high));
        }
        v.edge(s, Line::Detail, (x - 1.5, lift - half), (x + 1.5, lift + half));
        v.disc(s, Fill::Paper, (x, lift), 1.6);
    }
}

fn shuttle(s: &mut Sheet, v: &View, loom: &Loom, t: &Threads) {
    let w = &loom.wish;
    let (wide, high, a) = (mm_of(w.shuttle_width), mm_of(w.shuttle_height), mm_of(w.fell_to_heddle));
    let (from, to) = (a - t.clear - wide, a - t.clear);
    let r = v.rect((from, 0.4), (to, high + 0.4));
    s.area(Fill::OtherPart, Some(Line::Outline), kurbo::Shape::to_path(&r.to_rounded_rect(1.2), 0.05));
    let fits = text::width(Type::Note, "shuttle") + 2.0 < r.width();
    let low = if fits { r.center().y + 0.9 } else { r.y1 + 3.8 };
    s.words(Type::Note, Anchor::Middle, (r.center().x, low), "shuttle");
}

fn measures(s: &mut Sheet, v: &View, loom: &Loom, t: &Threads) {
    let w = &loom.wish;
    let (a, b, h) = (mm_of(w.fell_to_heddle), mm_of(w.heddle_to_back), mm_of(w.lift));
    let half = w.heddle.wish.slot_height / 2.0;
    let low = v.at(0.0, -half - 16.0).y + 7.0;
    dim::horizontal(s, v.at(0.0, 0.0), v.at(a, -half), low, &format!("fell to heddle {}", v.len(a)));
    dim::horizontal(s, v.at(a, -half), v.at(a + b, -loom.layout.bar), low, &format!("heddle to back bar {}", v.len(b)));
    let shuttle = &openings(loom, t)[0];
    let x = v.at(shuttle.edge, 0.0);
    dim::vertical(s, x, v.at(shuttle.edge, shuttle.room), x.x - 5.0, &v.len(shuttle.room));
    let right = v.at(a + HEDDLE_SPACING * f64::from(w.heddle.wish.frames().max(2) - 1) + 16.0, 0.0).x;
    dim::vertical(s, v.at(a, 0.0), v.at(a, h), right + 5.0, "");
    dim::vertical(s, v.at(a, h - half), v.at(a, h + half), right + 24.0, "");
    // Beside their arrows: in their middles the threads run.
    let middle = v.at(a, h / 2.0).y;
    s.words(Type::Figure, Anchor::Start, (right + 6.4, middle + 1.0), format!("lift {}", v.len(h)));
    let opening = if w.heddle.wish.shafts().is_some() { "opening" } else { "slot" };
    let top = v.at(a, h + half).y;
    s.words(Type::Figure, Anchor::Start, (right + 25.4, top + 3.0), format!("{opening} {}", v.len(2.0 * half)));
    let fell = v.at(0.0, 0.0);
    dim::leader(s, fell, Point::new(fell.x - 6.0, fell.y + 27.0), &["fell"]);
    let woven = v.at(t.advance, h * 0.9);
    dim::leader(s, woven, Point::new(woven.x - 8.0, woven.y - 9.0), &["fell just", "before", "winding on"]);
}

fn words(s: &mut Sheet, y: f64, loom: &Loom, t: &Threads) {
    let (w, ruler) = (&loom.wish, loom.wish.system.ruler());
    let mut table = Table::new(vec![
        Column::new("the fell stands", 44.0, Align::Start),
        Column::new("to the heddle", 24.0, Align::Point),
        Column::new("to the shuttle", 24.0, Align::Point),
        Column::new("opening there", 25.0, Align::Point),
        Column::new("shuttle", 18.0, Align::Point),
    ]);
    for o in openings(loom, t) {
        table.row([
            o.name.to_string(),
            ruler.says(o.depth),
            ruler.says(o.edge),
            ruler.says(o.room),
            ruler.says(mm_of(w.shuttle_height)),
        ]);
    }
    let below = table.draw(s, (MARGIN, y));
    let x = MARGIN + 145.0;
    let (a, b, h) = (mm_of(w.fell_to_heddle), mm_of(w.heddle_to_back), mm_of(w.lift));
    let kind = kind(loom);
    let strain = (f::SHED_STRAIN.code)([a, b, h]);
    let mut lines = vec![
        format!("{} stretches by {strain:.2} % each time; {} by nothing.", kind.one, kind.other),
        format!(
            "Its load goes from {:.0} to {:.0} cN; it breaks at {:.0} cN: {:.0} % of that.",
            t.rest,
            t.open,
            t.breaks,
            100.0 * t.open / t.breaks
        ),
        format!(
            "{} {} high; {} are needed.",
            kind.opening,
            ruler.says(w.heddle.wish.slot_height),
            ruler.says((f::SLOT_NEEDS.code)([h]))
        ),
    ];
    if let Some(lift) = t.lift {
        lines.push(format!("Lifting takes {} at both hands together.", show::of(lift, &N, ruler.0)));
    }
    if let Some(shafts) = w.heddle.wish.shafts() {
        let back = a + HEDDLE_SPACING * f64::from(shafts - 1);
        lines.push(format!(
            "{shafts} shafts {} apart: where the front one rises {}, the back one must rise {}, so that all raised threads lie in one sheet.",
            ruler.about(HEDDLE_SPACING),
            ruler.says(h),
            ruler.says(h * back / a)
        ));
    } else if w.heddle.wish.heddles > 1 {
        lines.push(format!(
            "Two heddles {} apart: lift the back one {}, so that both sheets of thread lie clean.",
            ruler.about(HEDDLE_SPACING),
            ruler.says(h * (a + HEDDLE_SPACING) / a)
        ));
    }
    let mut at = y;
    for line in lines {
        at = text::paragraph(s, Type::Small, (x, at), 132.0, &line) + 0.8;
    }
    let low = below.max(at) + 5.0;
    let frame = Rect::new(MARGIN, low, s.width - MARGIN, low + 1.0);
    caution::draw(s, (frame.x0, frame.y0), frame.width(), &[Hazard::Tension]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::loom::{design, tests::tern_bay};

    /// The practitioner's figures: 19.5 mm at a 28 mm shuttle, 17.8 mm after 35 mm woven.
    #[test]
    fn openings_at_both_ends_of_a_weave() {
        let loom = design(&tern_bay()).unwrap();
        let threads =
            Threads { rest: 27.0, open: 67.0, breaks: 520.0, lift: Some(Q::new(69.0, &N)), advance: 35.0, clear: 5.0 };
        let [first, last] = openings(&loom, &threads);
        assert!((first.room - 19.5).abs() < 0.05, "{}", first.room);
        assert!((last.room - 17.8).abs() < 0.1, "{}", last.room);
        let drawn = sheet(&loom, &threads);
        let e = extent::of(&drawn.items).unwrap();
        assert!(e.x0 > 4.0 && e.x1 < 293.0 && e.y1 < 206.0, "{e:?}");
    }
}
