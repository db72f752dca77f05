//! The brake's marks from empty to full, for Z and for S, with the cord drawn for both directions.

use kurbo::{Point, Rect};

use crate::draw::caution::{self, Hazard};
use crate::draw::chart::{Axis, Chart};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::brake::{Brake, Mark, Row, Spring, WindOn};
use crate::units::ruler::Ruler;
use crate::units::{CN, INCH, LBF, MM, MN_M, N, PER_IN, PER_M, PerLength, Q, RPM};

/// The sheet.
pub fn sheet(brake: &Brake, rows: &[Row], wind_on: &WindOn, ruler: Ruler) -> Sheet {
    let describe = "How far to turn the brake peg as the bobbin fills, one table for Z and one for S.";
    let mut sheet = title::page(Paper::A4, "brake", "The brake's marks from empty to full", describe);
    let lead = format!(
        "For a pull of {:.0} cN at the hand. Turn the peg from slack by the turns printed; the range is what friction of the cord may make of it. Check the first mark with a letter scale on the yarn.",
        brake.hand.get(&CN)
    );
    let y = title::head(&mut sheet, &lead);
    cords(&mut sheet, y, brake);
    let y = marks(&mut sheet, y + 64.0, rows, ruler);
    let y = curve(&mut sheet, y + 5.0, rows, ruler);
    let y = below(&mut sheet, y + 6.0, wind_on, ruler);
    let wide = sheet.width - 2.0 * MARGIN;
    caution::draw(&mut sheet, (MARGIN, y + 3.0), wide, &[Hazard::Rotation]);
    title::foot(&mut sheet, "Friction of the cord changes with damp and wear: mark anew when the pull changes.");
    sheet
}

fn cords(sheet: &mut Sheet, y: f64, brake: &Brake) {
    for (i, (name, turned)) in [("turning for Z", false), ("turning for S", true)].into_iter().enumerate() {
        let middle = Point::new(MARGIN + 48.0 + 95.0 * i as f64, y + 26.0);
        cord(sheet, middle, name, brake.spring, turned);
    }
}

/// Whorl, cord, spring and peg, seen from the spinner; `turned` for the other direction.
fn cord(sheet: &mut Sheet, c: Point, name: &str, spring: Spring, turned: bool) {
    let r = 12.0;
    sheet.circle(Line::Outline, c, r);
    sheet.circle(Line::Detail, c, 3.0);
    sheet.words(Type::Strong, Anchor::Middle, (c.x, c.y - r - 8.0), name);
    let (left, right) = (Point::new(c.x - r, c.y), Point::new(c.x + r, c.y));
    let half = kurbo::Arc::new(c, (r, r), std::f64::consts::PI, std::f64::consts::PI, 0.0);
    sheet.path(Line::Second, kurbo::Shape::to_path(&half, 0.01));
    // Z: clockwise seen from the spinner, so the rim runs up on the left and down on the right: the cord comes on at the left.
    let (start, end) = if turned { (-30.0, -120.0) } else { (-150.0, -60.0) };
    dim::turns(sheet, Line::Danger, c, r + 3.6, start, end);
    // Springs stand where the machine has them, whichever way it turns.
    let (left_spring, right_spring) = match spring {
        Spring::Oncoming => (true, false),
        Spring::Leaving => (false, true),
        Spring::Both => (true, true),
    };
    for (at, sprung) in [(left, left_spring), (right, right_spring)] {
        let foot = Point::new(at.x, c.y + 20.0);
        if sprung {
            coil(sheet, at + kurbo::Vec2::new(0.0, 8.0), foot - kurbo::Vec2::new(0.0, 3.0));
            sheet.line(Line::Second, at, at + kurbo::Vec2::new(0.0, 8.0));
            sheet.words(Type::Note, Anchor::Middle, (foot.x, foot.y + 5.6), "spring, fixed");
        } else {
            sheet.line(Line::Second, at, foot);
            sheet.area(Fill::Part, Some(Line::Outline), kurbo::Shape::to_path(&kurbo::Circle::new(foot, 2.2), 0.01));
            sheet.words(Type::Note, Anchor::Middle, (foot.x, foot.y + 5.6), "peg, turned");
        }
    }
    let strong = matches!((spring, turned), (Spring::Leaving, false) | (Spring::Oncoming, true));
    let words = match spring {
        Spring::Both => "the same both ways",
        _ if strong => "spring at the leaving end: strong and touchy",
        _ => "spring at the oncoming end: weak and steady",
    };
    sheet.words(Type::Small, Anchor::Middle, (c.x, c.y + 31.0), words);
}

fn coil(sheet: &mut Sheet, from: Point, to: Point) {
    let turns = 6;
    let mut points = vec![from];
    for i in 0..turns {
        let t = (f64::from(i) + 0.5) / f64::from(turns);
        let side = if i % 2 == 0 { 1.8 } else { -1.8 };
        points.push(from.lerp(to, t) + kurbo::Vec2::new(side, 0.0));
    }
    points.push(to);
    sheet.trace(Line::Detail, points);
}

fn marks(sheet: &mut Sheet, y: f64, rows: &[Row], ruler: Ruler) -> f64 {
    let spring = ruler.of("spring, N", "spring, lbf");
    let mut table = Table::new(vec![
        Column::new("filled", 17.0, Align::Point),
        Column::new(&format!("ø, {}", ruler.unit()), 16.0, Align::Point),
        Column::new("brake, mN·m", 22.0, Align::Point),
        Column::new("bobbin, rpm", 21.0, Align::Point),
        Column::new("Z: turns", 17.0, Align::Point),
        Column::new("range", 22.0, Align::Start),
        Column::new(spring, 18.0, Align::Point),
        Column::new("S: turns", 17.0, Align::Point),
        Column::new("range", 22.0, Align::Start),
        Column::new(spring, 18.0, Align::Point),
    ]);
    let one = |m: &Mark| {
        [
            format!("{:.2}", m.turns),
            format!("{:.2} to {:.2}", m.doubt.0, m.doubt.1),
            ruler.of(format!("{:.2}", m.tension.get(&N)), format!("{:.3}", m.tension.get(&LBF))),
        ]
    };
    for row in rows {
        let head = [
            format!("{:.0} %", 100.0 * row.filled),
            ruler.bare(row.diameter.get(&MM)),
            format!("{:.1}", row.band.get(&MN_M)),
            format!("{:.0}", row.bobbin.get(&RPM)),
        ];
        table.row(head.into_iter().chain(one(&row.z)).chain(one(&row.s)));
    }
    table.draw(sheet, (MARGIN, y))
}

fn curve(sheet: &mut Sheet, y: f64, rows: &[Row], ruler: Ruler) -> f64 {
    let across = |r: &Row| ruler.of(r.diameter.get(&MM), r.diameter.get(&INCH));
    let frame = Rect::new(MARGIN, y, sheet.width - MARGIN, y + 66.0);
    let of = |pick: fn(&Row) -> f64| rows.iter().map(move |r| (across(r), pick(r))).collect::<Vec<_>>();
    let all = rows.iter().flat_map(|r| [r.z.doubt.1, r.s.doubt.1]);
    let (low, high) = (rows.first().map_or(0.0, across), rows.last().map_or(1.0, across));
    Chart::new(
        frame,
        Axis::exactly(&format!("Yarn on the bobbin, ø {}", ruler.unit()), low, high),
        Axis::of("Turns of the peg", all, true),
    )
    .band(rows.iter().map(|r| (across(r), r.z.doubt.0, r.z.doubt.1)))
    .band(rows.iter().map(|r| (across(r), r.s.doubt.0, r.s.doubt.1)))
    .curve(Line::Curve, of(|r| r.z.turns), "Z")
    .curve(Line::Second, of(|r| r.s.turns), "S")
    .draw(sheet);
    frame.y1
}

fn below(sheet: &mut Sheet, y: f64, w: &WindOn, ruler: Ruler) -> f64 {
    let twist = |q: Q<PerLength>| ruler.of(format!("{:.0}", q.get(&PER_M)), format!("{:.1}", q.get(&PER_IN)));
    let head = if w.winds { "Yarn winds on" } else { "Yarn does not wind on" };
    sheet.words(Type::Strong, Anchor::Start, (MARGIN, y), head);
    let twist = format!(
        "{}. Twist put in: {} turns {} empty, {} full, when yarn is taken off the bobbin's side; over its end each wrap adds or takes one turn.",
        capital(&w.words),
        twist(w.twist[0]),
        ruler.of("a metre", "an inch"),
        twist(w.twist[1])
    );
    text::paragraph(sheet, Type::Small, (MARGIN, y + 1.5), sheet.width - 2.0 * MARGIN, &twist)
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}
