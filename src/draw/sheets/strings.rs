//! String heddles on shafts: a shaft from the front with its loops, the jig they are tied on, and how many of what.

use kurbo::Point;

use super::view::{View, fitting};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN};
use crate::machine::heddle::{Heddle, Tie};
use crate::machine::loom::HEDDLE_SPACING;
use crate::units::ruler::Ruler;
use crate::units::{Kind, show};

/// Loops drawn; on paper they stand wider apart than on the shaft, which the words say.
const DRAWN: u32 = 7;

/// The sheet, A4 on its side.
pub fn sheet(h: &Heddle) -> Sheet {
    let describe = "A shaft with string heddles from the front, and the jig on which every loop is tied.";
    let mut s = Sheet::new("heddle", "The string heddles", describe, 297.0, 210.0);
    let shafts = h.wish.frames();
    let lead = format!(
        "{shafts} shafts with {} loops each, {} in all. Tie every loop on the same jig: all eyes must stand level. About {:.0} hours of work.",
        h.eyes,
        h.eyes * shafts,
        h.hours
    );
    let top = title::head(&mut s, &lead);
    let (tie, ruler) = (Tie::of(h), h.wish.system.ruler());
    let whole = tie.nails[3];
    let scale = fitting((1.0, whole + 10.0), (1.0, 86.0));
    s.scale = Some(scale);
    let low = top + 12.0 + whole * scale;
    shaft(&mut s, &View::new(MARGIN + 16.0, low, scale).written(ruler), h, &tie);
    jig(&mut s, &View::new(MARGIN + 146.0, low, scale).written(ruler), &tie);
    steps(&mut s, (MARGIN + 192.0, top + 6.0), &tie, ruler);
    let y = low + 14.0;
    figures(&mut s, (MARGIN, y), h, &tie);
    let room = s.width - 2.0 * MARGIN - 146.0;
    caution::draw(&mut s, (MARGIN + 146.0, y), room, &[Hazard::Blades, Hazard::Tension]);
    title::foot(&mut s, "Common practice, no source. Tie ten loops and hang a thread in them before you tie the rest.");
    s
}

/// The shaft: bars, loops with their eyes, a thread in each.
fn shaft(s: &mut Sheet, v: &View, h: &Heddle, tie: &Tie) {
    let (wide, whole, bar) = (96.0 / v.scale, tie.nails[3], tie.bar);
    let apart = wide / f64::from(DRAWN);
    for low in [0.0, whole - bar] {
        v.part(s, Fill::Part, (0.0, low), (wide, low + bar));
    }
    let half = 2.2;
    for i in 0..DRAWN {
        let x = apart * (f64::from(i) + 0.5);
        let knots = [(x, tie.nails[1]), (x, tie.nails[2])];
        for side in [-half, half] {
            let eye = (x + side, f64::midpoint(tie.nails[1], tie.nails[2]));
            v.trace(s, Line::Outline, &[(x + side * 0.6, 0.0), (x + side * 0.6, bar), knots[0], eye, knots[1]]);
            v.trace(s, Line::Outline, &[knots[1], (x + side * 0.6, whole - bar), (x + side * 0.6, whole)]);
        }
        for knot in knots {
            v.disc(s, Fill::Ink, knot, 0.9);
        }
        v.disc(s, Fill::Curve, (x, whole / 2.0), (h.wish.yarn / 2.0).max(0.8));
    }
    for low in [0.0, whole - bar] {
        dim::shortened(s, v.at(wide, low - 2.0), v.at(wide, low + bar + 2.0));
    }
    let left = v.at(0.0, 0.0).x;
    dim::vertical(s, v.at(0.0, bar), v.at(0.0, whole - bar), left - 6.0, &v.len(h.wish.slot_height));
    dim::vertical(s, v.at(0.0, 0.0), v.at(0.0, bar), left - 6.0, &v.len(bar));
    let y = v.at(0.0, whole).y - 4.0;
    let words = format!("{} apart on the shaft (drawn wider)", h.wish.system.ruler().fine(h.pitch));
    dim::horizontal(s, v.at(apart * 1.5, whole), v.at(apart * 2.5, whole), y, &words);
    let eye = v.at(apart * (f64::from(DRAWN) - 0.5) + 1.0, whole / 2.0);
    dim::leader(
        s,
        eye,
        Point::new(v.at(wide, 0.0).x + 8.0, eye.y - 8.0),
        &[&format!("eye {}", v.len(tie.eye)), "one thread"],
    );
    s.words(
        Type::Note,
        Anchor::Start,
        (left, v.at(0.0, 0.0).y + 6.0),
        "a shaft from the front; the loops run free on their bars",
    );
}

/// Four nails in a row, with their heights.
fn jig(s: &mut Sheet, v: &View, tie: &Tie) {
    v.part(s, Fill::Part, (-14.0, -14.0), (14.0, tie.nails[3] + 14.0));
    for (nail, at) in tie.nails.iter().enumerate() {
        v.disc(s, Fill::OtherPart, (0.0, *at), 1.6);
        let p = v.at(-6.0, *at);
        s.words(Type::Figure, Anchor::End, (p.x, p.y + 1.0), format!("{}", nail + 1));
    }
    let x = v.at(14.0, 0.0).x;
    for (i, at) in tie.nails.iter().enumerate().skip(1) {
        dim::vertical(s, v.at(0.0, tie.nails[0]), v.at(0.0, *at), x + 4.0 + 6.0 * (i as f64 - 1.0), &v.len(*at));
    }
    s.words(Type::Note, Anchor::Middle, (v.at(0.0, 0.0).x, v.at(0.0, -14.0).y + 5.0), "the jig");
}

fn steps(s: &mut Sheet, at: (f64, f64), tie: &Tie, ruler: Ruler) {
    let steps = [
        format!("Cut the cord: {} for each loop, {} in all.", ruler.says(tie.cord), long(tie, ruler)),
        "Drive four nails without heads into a board, in one line, at the heights beside them.".into(),
        "Lay the middle of the cord round nail 1. Tie both halves together close under nail 2.".into(),
        "Lead one half each side of nails 2 and 3, tie close above nail 3: that is the eye.".into(),
        "Tie the ends over nail 4 with a flat knot and a drop of glue. Slip the loop off.".into(),
        "Count the loops on to each shaft by the threading sheet, and tie its two bars together at both ends.".into(),
    ];
    let mut y = at.1;
    for (i, words) in steps.iter().enumerate() {
        s.words(Type::Strong, Anchor::Start, (at.0, text::base(Type::Small, y)), format!("{}", i + 1));
        y = text::paragraph(s, Type::Small, (at.0 + 7.0, y), s.width - MARGIN - at.0 - 7.0, words) + 2.0;
    }
}

/// The cord of all loops.
fn long(tie: &Tie, ruler: Ruler) -> String {
    show::natural(tie.all, Kind::Length, ruler.0)
}

fn figures(s: &mut Sheet, at: (f64, f64), h: &Heddle, tie: &Tie) {
    let mut table = Table::new(vec![
        Column::new("", 52.0, Align::Start),
        Column::new("", 20.0, Align::Point),
        Column::new("", 62.0, Align::Start),
    ]);
    let (shafts, ruler) = (h.wish.frames(), h.wish.system.ruler());
    let mut row = |what: &str, value: String, unit: &str| {
        table.row([what.to_string(), value, unit.to_string()]);
    };
    row("shafts, one behind the other", shafts.to_string(), &format!("{} apart", ruler.about(HEDDLE_SPACING)));
    row("loops on each", h.eyes.to_string(), "the threading sheet has the exact ones");
    row("cord for one loop", ruler.bare(tie.cord), &format!("{}, smooth and hardly stretching", ruler.unit()));
    row(
        "the reed has",
        format!("{:.1}", ruler.per(h.wish.sett / f64::from(h.wish.ends_per_dent))),
        &format!("dents {}", ruler.each()),
    );
    row("ends in each dent", h.wish.ends_per_dent.to_string(), "");
    row("width of the warp in it", ruler.bare(h.wish.width), ruler.unit());
    let mut y = table.draw(s, at) + 3.0;
    for line in &h.against {
        y = text::paragraph(s, Type::Strong, (at.0, y), 130.0, &format!("✗ {line}")) + 0.6;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::heddle::{Style, Wish, tests::tern_bay, work_out};

    /// Low and high openings stay on the paper, and the jig's measures stand on it.
    #[test]
    fn the_sheet_holds_shaft_and_jig() {
        for slot_height in [40.0, 78.0, 160.0] {
            let wish = Wish { style: Style::String, sett: 12.0, shafts: Some(4), slot_height, ..tern_bay() };
            let h = work_out(&wish).unwrap();
            let drawn = sheet(&h);
            let e = extent::of(&drawn.items).unwrap();
            assert!(e.x0 > 4.0 && e.x1 < 293.0 && e.y1 < 206.0, "{slot_height} {e:?}");
            let mut words = Vec::new();
            extent::walk(&drawn.items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    words.push(text.to_string());
                }
            });
            assert!(words.iter().any(|w| *w == h.wish.system.ruler().bare(Tie::of(&h).nails[3])), "{words:?}");
        }
    }
}
