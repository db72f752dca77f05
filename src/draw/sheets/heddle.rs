//! The heddle: the whole comb with a piece of it enlarged, how it is threaded, and what each way of making can do.

use kurbo::{Point, Rect, Shape};

use super::view::{View, fitting};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN};
use crate::machine::heddle::{BEND_SHARE, Compared, Cut, Heddle, RIM, SIDE, Style};
use crate::units::ruler::Ruler;

/// Front with detail; comparison; and a full-size sheet for each outline to cut.
pub fn sheets(heddle: &Heddle, compared: &[Compared], cuts: &[Cut]) -> Vec<Sheet> {
    let first = if heddle.wish.shafts().is_some() { super::strings::sheet(heddle) } else { front(heddle) };
    let mut out = vec![first, comparison(heddle, compared)];
    out.extend(cuts.iter().enumerate().map(|(i, c)| to_cut(c, i, heddle.wish.system.ruler())));
    out
}

fn hazards(style: Style) -> Vec<Hazard> {
    match style {
        Style::Strips => vec![Hazard::Blades, Hazard::Dust],
        Style::Sheet => vec![Hazard::Laser, Hazard::Dust],
        Style::Printed => vec![Hazard::HotGlue],
        Style::String => vec![Hazard::Blades],
    }
}

/// The whole comb and a few pitches of it enlarged, A4 on its side.
pub fn front(h: &Heddle) -> Sheet {
    let describe = "The heddle from the front, whole, and three pitches of it enlarged with measures.";
    let mut s = Sheet::new("heddle", "The heddle", describe, 297.0, 210.0);
    let ruler = h.wish.system.ruler();
    let lead = format!(
        "{} to make: {}; {} thick. Pitch {}, one slot and one eye; {} slots and {} eyes in each. About {:.0} hours of work.",
        h.wish.heddles,
        h.wish.style.way().material,
        ruler.says(h.wish.thick()),
        ruler.says_fine(h.pitch),
        h.slots,
        h.eyes,
        h.hours
    );
    let top = title::head(&mut s, &lead);
    let high = h.wish.slot_height + 2.0 * RIM;
    let scale = fitting((h.comb + 2.0 * SIDE, high), (255.0, 38.0));
    s.scale = None;
    let v = View::new(MARGIN + 8.0, top + 8.0 + high * scale, scale).written(ruler);
    whole(&mut s, &v, h);
    s.words(
        Type::Note,
        Anchor::Start,
        (MARGIN + 8.0, top + 4.0),
        format!("whole comb, {}", title::scale_words(Some(scale))),
    );
    let y = v.origin.y + 20.0;
    let detail_scale = fitting((3.6 * h.pitch, 1.0), (86.0, 74.0));
    enlarged(&mut s, Point::new(MARGIN + 22.0, y + 10.0), detail_scale, h);
    figures(&mut s, (MARGIN + 140.0, y - 3.5), h);
    title::foot(&mut s, "");
    s
}

fn whole(s: &mut Sheet, v: &View, h: &Heddle) {
    let high = h.wish.slot_height + 2.0 * RIM;
    let (wide, side) = (h.comb + 2.0 * SIDE, SIDE);
    v.part(s, Fill::Part, (0.0, 0.0), (wide, high));
    // Every slot as a hairline: at this scale that is what they are.
    for i in 0..h.slots {
        let x = side + f64::from(i) * h.pitch + h.gap / 2.0;
        v.line(s, Line::Dimension, (x, RIM), (x, RIM + h.wish.slot_height));
    }
    v.line(s, Line::Centre, (-4.0, high / 2.0), (wide + 4.0, high / 2.0));
    let low = v.at(0.0, 0.0).y;
    dim::horizontal(s, v.at(side, 0.0), v.at(side + h.comb, 0.0), low + 6.0, &format!("comb {}", v.len(h.comb)));
    dim::horizontal(s, v.at(0.0, 0.0), v.at(wide, 0.0), low + 12.0, &v.len(wide));
    let right = v.at(wide, 0.0).x;
    dim::vertical(s, v.at(wide, RIM), v.at(wide, RIM + h.wish.slot_height), right + 6.0, &v.len(h.wish.slot_height));
    dim::vertical(s, v.at(wide, 0.0), v.at(wide, high), right + 13.0, &v.len(high));
}

/// Three pitches about the eyes, threads in place.
fn enlarged(s: &mut Sheet, at: Point, scale: f64, h: &Heddle) {
    let (pitches, high) = (3, 58.0 / scale);
    let (v, ruler) = (View::new(at.x, at.y + 58.0, scale), h.wish.system.ruler());
    let wide = f64::from(pitches) * h.pitch + h.gap;
    for i in 0..pitches {
        let left = f64::from(i) * h.pitch + h.gap;
        v.part(s, Fill::Part, (left, 0.0), (left + h.wish.blade, high));
        v.disc(s, Fill::Paper, (left + h.wish.blade / 2.0, high / 2.0), h.wish.eye / 2.0);
        let thread = kurbo::Circle::new(v.at(left + h.wish.blade / 2.0, high / 2.0), h.wish.yarn / 2.0 * scale);
        s.area(Fill::Curve, None, thread.to_path(0.01));
    }
    for i in 0..=pitches {
        let slot = f64::from(i) * h.pitch;
        for k in 0..h.threads {
            let x = slot + h.gap * (f64::from(k) + 1.0) / (f64::from(h.threads) + 1.0);
            let middle = (f64::from(h.threads) - 1.0) / 2.0;
            let place = v.at(x, high / 2.0 + (f64::from(k) - middle) * h.wish.yarn * 1.6);
            s.area(Fill::Second, None, kurbo::Circle::new(place, h.wish.yarn / 2.0 * scale).to_path(0.01));
        }
    }
    dim::shortened(s, v.at(-1.0, high), v.at(wide + 1.0, high));
    dim::shortened(s, v.at(-1.0, 0.0), v.at(wide + 1.0, 0.0));
    let top = v.at(0.0, high).y;
    let (a, b) = (h.gap, h.gap + h.wish.blade);
    dim::horizontal(s, v.at(a, high), v.at(0.0, high), top - 5.0, &ruler.fine(h.gap));
    dim::horizontal(s, v.at(a, high), v.at(b, high), top - 11.0, &ruler.fine(h.wish.blade));
    let low = v.at(0.0, 0.0).y;
    dim::horizontal(
        s,
        v.at(a + h.pitch, 0.0),
        v.at(a + 2.0 * h.pitch, 0.0),
        low + 6.0,
        &format!("pitch {}", ruler.fine(h.pitch)),
    );
    let eye = (a + 2.0 * h.pitch + h.wish.blade / 2.0, high / 2.0);
    let out = v.at(eye.0, eye.1);
    dim::leader(
        s,
        v.at(eye.0 + h.wish.eye * 0.35, eye.1 + h.wish.eye * 0.35),
        Point::new(out.x + 22.0, out.y - 16.0),
        &[&format!("eye ø {}", ruler.fine(h.wish.eye)), &format!("wall {}", ruler.fine(h.wall))],
    );
    dim::leader(
        s,
        v.at(3.0 * h.pitch + h.gap * 0.5, high * 0.3),
        Point::new(v.at(wide, 0.0).x + 12.0, v.at(0.0, high * 0.22).y),
        &[&if h.threads == 1 { "slot: one thread".to_string() } else { format!("slot: {} threads", h.threads) }],
    );
    s.words(
        Type::Note,
        Anchor::Start,
        (at.x, low + 12.0),
        format!(
            "enlarged, {}; threads of {} drawn to scale",
            title::scale_words(Some(scale)),
            ruler.says_fine(h.wish.yarn)
        ),
    );
}

fn figures(s: &mut Sheet, at: (f64, f64), h: &Heddle) {
    let mut table = Table::new(vec![
        Column::new("", 62.0, Align::Start),
        Column::new("is", 24.0, Align::Point),
        Column::new("needs", 24.0, Align::Point),
        Column::new("", 26.0, Align::Start),
    ]);
    let (way, ruler) = (h.wish.style.way(), h.wish.system.ruler());
    let (unit, at_most) = (ruler.unit(), format!("{} at most", ruler.unit()));
    let sett = |per_cm: f64| format!("{:.1}", ruler.per(per_cm));
    let mut row = |what: &str, is: String, needs: String, unit: &str| {
        table.row([what.to_string(), is, needs, unit.to_string()]);
    };
    row(
        "slot room for each thread",
        format!("{:.2}", h.slot_room),
        format!("{:.1}", crate::machine::heddle::SLOT_ROOM),
        "diameters",
    );
    row("with one thick place in it", format!("{:.2}", h.slot_room_thick), String::new(), "diameters");
    row("eye", format!("{:.1}", h.eye_room), format!("{:.1}", crate::machine::heddle::EYE_ROOM), "diameters");
    row("eye at a thick place", format!("{:.1}", h.eye_room_thick), "1.2".into(), "diameters");
    row("left beside the eye", ruler.fine(h.wall), ruler.fine(way.least_wall), unit);
    row("least pitch this way", ruler.fine(h.pitch), ruler.fine(way.pitch()), unit);
    row("a blade gives under a thread's tug", ruler.fine(h.bend), ruler.fine(BEND_SHARE * h.gap), &at_most);
    row("one pitch is true to (9 of 10)", ruler.fine(h.pitch_error), String::new(), unit);
    row("whole width is true to (9 of 10)", ruler.fine(h.width_error), String::new(), unit);
    row("closest sett it can weave", sett(h.closest), sett(h.wish.sett), &format!("ends {}", ruler.each()));
    let mut y = table.draw(s, at) + 3.0;
    let wide = s.width - MARGIN - at.0;
    for line in &h.against {
        y = text::paragraph(s, Type::Strong, (at.0, y), wide, &format!("✗ {line}")) + 0.6;
    }
    caution::draw(s, (at.0, y + 2.0), wide, &hazards(h.wish.style));
}

/// What each way can make, A4 on its side.
pub fn comparison(h: &Heddle, compared: &[Compared]) -> Sheet {
    let describe =
        "Four ways to make a heddle, one or two of them, and the closest sett each can weave with this yarn.";
    let mut s = Sheet::new("heddle-ways", "Which heddle can weave this cloth", describe, 297.0, 210.0);
    let ruler = h.wish.system.ruler();
    let lead = format!(
        "Cloth wanted: {:.1} ends {} of yarn {} thick. A bar that reaches the line can make it.",
        ruler.per(h.wish.sett),
        ruler.each(),
        ruler.says_fine(h.wish.yarn)
    );
    let top = title::head(&mut s, &lead);
    let frame = Rect::new(MARGIN + 52.0, top + 4.0, s.width - MARGIN - 8.0, top + 78.0);
    bars(&mut s, frame, h, compared);
    let mut table = Table::new(vec![
        Column::new("way", 22.0, Align::Start),
        Column::new("heddles", 18.0, Align::Middle),
        Column::new(ruler.of("closest sett, /cm", "closest sett, /in"), 30.0, Align::Point),
        Column::new("reaches", 18.0, Align::Middle),
        Column::new(ruler.of("true to, mm", "true to, in"), 24.0, Align::Point),
        Column::new("hours", 18.0, Align::Point),
        Column::new("of", 86.0, Align::Start),
        Column::new("", 61.0, Align::Start),
    ]);
    for c in compared {
        table.row([
            c.style.word().to_string(),
            c.heddles.to_string(),
            format!("{:.1}", ruler.per(c.closest)),
            if c.reaches { "✓" } else { "–" }.to_string(),
            ruler.fine(c.width_error),
            format!("{:.0}", c.hours),
            c.material.to_string(),
            c.note.to_string(),
        ]);
    }
    let y = table.draw(&mut s, (MARGIN, frame.y1 + 12.0)) + 4.0;
    s.words(Type::Note, Anchor::Start, (MARGIN, y + 2.0), "Limits of the ways are bench practice without a published source; make a piece of ten pitches first and pass your own yarn through it.");
    title::foot(&mut s, "");
    s
}

fn bars(s: &mut Sheet, frame: Rect, h: &Heddle, compared: &[Compared]) {
    let ruler = h.wish.system.ruler();
    let wanted = ruler.per(h.wish.sett);
    let most = compared.iter().map(|c| ruler.per(c.closest)).fold(wanted, f64::max) * 1.08;
    let x = |sett: f64| frame.x0 + frame.width() * sett / most;
    let step = frame.height() / compared.len().max(1) as f64;
    let stop = if most > 60.0 {
        20.0
    } else if most > 30.0 {
        10.0
    } else {
        5.0
    };
    let mut at = 0.0;
    while at <= most {
        s.line(Line::Grid, (x(at), frame.y0), (x(at), frame.y1));
        s.words(Type::Figure, Anchor::Middle, (x(at), frame.y1 + 4.0), format!("{at:.0}"));
        at += stop;
    }
    for (i, c) in compared.iter().enumerate() {
        let y = frame.y0 + step * i as f64;
        let bar = Rect::new(frame.x0, y + step * 0.18, x(ruler.per(c.closest)), y + step * 0.82);
        let fill = if c.reaches { Fill::Good } else { Fill::Bad };
        s.area(fill, Some(Line::Detail), bar.to_path(0.1));
        let heddles = if c.heddles == 1 { "one heddle" } else { "two heddles" };
        s.words(Type::Small, Anchor::End, (frame.x0 - 2.0, y + step * 0.62), format!("{}, {heddles}", c.style.word()));
        let figure = format!("{:.1}", ruler.per(c.closest));
        // Inside the bar where the line of what is wanted would run through it.
        let beside = bar.x1 + 1.5..bar.x1 + 2.5 + text::width(Type::Figure, &figure);
        let (anchor, at) =
            if beside.contains(&x(wanted)) { (Anchor::End, bar.x1 - 1.5) } else { (Anchor::Start, beside.start) };
        s.words(Type::Figure, anchor, (at, y + step * 0.62), figure);
    }
    s.line(Line::Axis, (frame.x0, frame.y0), (frame.x0, frame.y1));
    s.line(Line::Danger, (x(wanted), frame.y0 - 3.0), (x(wanted), frame.y1));
    s.words(Type::Small, Anchor::Middle, (x(wanted), frame.y0 - 4.0), format!("wanted {wanted:.1}"));
    s.words(Type::Note, Anchor::End, (frame.x1, frame.y1 + 8.0), format!("ends {} in the heddle", ruler.each()));
}

/// An outline at full size for laser, router or paper pattern; only what is cut, and its name.
pub fn to_cut(cut: &Cut, index: usize, ruler: Ruler) -> Sheet {
    let (low, high) = cut.outline.bounds();
    let (wide, tall) = (high[0] - low[0] + 20.0, high[1] - low[1] + 30.0);
    let name = if index == 0 { "heddle-cut".to_string() } else { format!("heddle-cut-{}", index + 1) };
    let title = format!("{}: {} thick, {} to cut", cut.words, ruler.says(cut.thick), cut.how_many);
    let mut s = Sheet::new(&name, &title, "An outline at full size for cutting.", wide, tall);
    s.scale = Some(1.0);
    let v = View::new(10.0 - low[0], tall - 10.0 + low[1], 1.0);
    v.outline(&mut s, None, Line::Cut, &cut.outline);
    s.words(Type::Small, Anchor::Start, (10.0, 8.0), title);
    s
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{dxf, extent};
    use crate::machine::heddle::{Wish, compare, cut, tests::tern_bay, work_out};

    #[test]
    fn every_style_is_drawn_on_its_paper() {
        for style in Style::ALL {
            let h = work_out(&Wish { style, ..tern_bay() }).unwrap();
            let cuts = cut(&h).unwrap();
            for sheet in sheets(&h, &compare(&h.wish).unwrap(), &cuts) {
                let e = extent::of(&sheet.items).unwrap();
                assert!(
                    e.x0 > 3.0 && e.y0 > 2.0 && e.x1 < sheet.width - 2.0 && e.y1 < sheet.height - 2.0,
                    "{style:?} {} {e:?}",
                    sheet.name
                );
            }
        }
    }

    /// The laser's file holds the comb at full size: its true width in millimetres.
    #[test]
    fn the_cut_sheet_is_full_size() {
        let h = work_out(&tern_bay()).unwrap();
        let one = to_cut(&cut(&h).unwrap()[0], 0, h.wish.system.ruler());
        assert_eq!(one.scale, Some(1.0));
        assert!((one.width - 20.0 - (h.comb + 28.0)).abs() < 1e-6);
        assert!(dxf::bytes(&one).unwrap().len() > 10_000);
    }
}
