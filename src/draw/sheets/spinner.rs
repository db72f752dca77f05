//! The spinner to scale: from the side, from the front and from above, with measures, marks and cautions.

use kurbo::Point;

use super::steps;
use super::view::{View, fitting, size};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::title::{self, MARGIN};
use crate::machine::spinner::{Layout, OVER, Spinner};
use crate::units::ruler::Ruler;

/// What the drawing says besides the shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Speeds {
    /// Flyer at work, where the switch fails on, and the speed of its first test, rpm.
    pub work: f64,
    pub runaway: f64,
    pub test: f64,
    /// Lowest speed at which the spindle would whirl, rpm.
    pub whirl: Option<f64>,
    /// How far the flyer's centre of mass may lie off the axis, mm.
    pub balance: Option<f64>,
    /// Belt round both pulleys, mm.
    pub belt: f64,
}

/// Side and front, from above with the parts list, and the order to build it in.
pub fn sheets(spinner: &Spinner, speeds: &Speeds) -> Vec<Sheet> {
    let order = "Tick each step. Wire nothing and run nothing before its step.";
    vec![
        standing(spinner, speeds),
        lying_down(spinner),
        steps::sheet("spinner-build", "Build the spinner in this order", order, &spinner.steps),
    ]
}

fn standing(spinner: &Spinner, speeds: &Speeds) -> Sheet {
    let describe = "The spinner from the side and from the front, to scale, each part with its mark.";
    let mut sheet = Sheet::new("spinner", "The spinner", describe, 297.0, 210.0);
    let top = title::head(
        &mut sheet,
        &format!("{} The numbers in rings are the marks of the parts list.", spinner.wish.system.ruler().said()),
    );
    let l = &spinner.layout;
    let (long, high) = (l.base.0, l.axis + l.guard + l.base.2);
    let scale = fitting((long + l.base.1, high), (277.0 - 62.0, 88.0));
    sheet.scale = Some(scale);
    let floor = top + 24.0 + (high - l.base.2) * scale;
    side(&mut sheet, &View::new(MARGIN + 16.0, floor, scale).written(spinner.wish.system.ruler()), spinner);
    let front =
        View::new(MARGIN + 48.0 + (long + l.base_left) * scale, floor, scale).written(spinner.wish.system.ruler());
    from_front(&mut sheet, &front, spinner);
    words(&mut sheet, speeds, spinner.wish.system.ruler(), (MARGIN, floor + l.base.2 * scale + 24.0));
    title::foot(&mut sheet, "Guard drawn dashed. Never run the flyer without it.");
    sheet
}

fn lying_down(spinner: &Spinner) -> Sheet {
    let describe = "The spinner from above, to scale, and its parts list.";
    let mut sheet = Sheet::new("spinner-above", "The spinner from above, and its parts", describe, 297.0, 210.0);
    let top = title::head(
        &mut sheet,
        &format!("{} Whorl, pulleys and bobbins are printed from their solids.", spinner.wish.system.ruler().said()),
    );
    let l = &spinner.layout;
    let scale = fitting((l.base.0, l.base.1), (104.0, 140.0));
    sheet.scale = Some(scale);
    from_above(
        &mut sheet,
        &View::new(MARGIN + 6.0, top + 6.0 + l.base_left * scale, scale).written(spinner.wish.system.ruler()),
        spinner,
    );
    let x = MARGIN + 124.0;
    let mut table = Table::new(vec![
        Column::new("mark", 11.0, Align::Start),
        Column::new("part", 30.0, Align::Start),
        Column::new("of", 18.0, Align::Start),
        Column::new("size", 34.0, Align::Start),
        Column::new("n", 8.0, Align::Point),
        Column::new("", 52.0, Align::Start),
    ]);
    for part in &spinner.parts {
        let n = part.how_many.to_string();
        table.row([
            part.mark.clone(),
            part.name.into(),
            part.of.into(),
            size(&part.stuff, spinner.wish.system.ruler()),
            n,
            part.note.clone(),
        ]);
    }
    table.draw(&mut sheet, (x, top - 1.0));
    title::foot(&mut sheet, "");
    sheet
}

fn heading(sheet: &mut Sheet, at: Point, words: &str) {
    sheet.words(Type::Strong, Anchor::Start, at, words);
}

/// A turned section lying along x, its bottom at `from`, growing to +x or -x.
fn lying(sheet: &mut Sheet, v: &View, outer: &[[f64; 2]], from: f64, way: f64, axis: f64, fill: Fill) {
    let top: Vec<(f64, f64)> = outer.iter().map(|p| (from + way * p[1], axis + p[0])).collect();
    let mut all = top.clone();
    all.extend(top.iter().rev().map(|p| (p.0, 2.0 * axis - p.1)));
    v.polygon(sheet, fill, Some(Line::Outline), &all);
    for p in &top {
        v.line(sheet, Line::Detail, *p, (p.0, 2.0 * axis - p.1));
    }
}

fn side(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let (l, w) = (&s.layout, &s.wish);
    heading(sheet, v.at(0.0, l.axis + l.guard) - kurbo::Vec2::new(16.0, 17.0), "From the side");
    v.part(sheet, Fill::Part, (0.0, -l.base.2), (l.base.0, 0.0));
    motor_side(sheet, v, s);
    for x in [l.front_bearing, l.rear_bearing] {
        v.part(sheet, Fill::Part, (x - l.upright_thick / 2.0, 0.0), (x + l.upright_thick / 2.0, l.axis + OVER));
        let seat = (w.spindle / 2.0 + 6.0, l.upright_thick * 0.3);
        v.edge(sheet, Line::Hidden, (x - seat.1, l.axis - seat.0), (x + seat.1, l.axis + seat.0));
    }
    v.part(sheet, Fill::OtherPart, (0.0, l.axis - w.spindle / 2.0), (l.spindle_end, l.axis + w.spindle / 2.0));
    lying(sheet, v, &s.bobbin.outer, l.bobbin.1, -1.0, l.axis, Fill::Paper);
    flyer_side(sheet, v, l);
    let big = s.spindle_pulley.height();
    lying(sheet, v, &s.spindle_pulley.outer, l.pulley - big / 2.0, 1.0, l.axis, Fill::Paper);
    let belt = w.belt / 2.0;
    v.part(sheet, Fill::Ink, (l.pulley - belt, l.motor.1), (l.pulley + belt, l.axis - s.spindle_pulley.reach()));
    v.line(sheet, Line::Centre, (-10.0, l.axis), (l.spindle_end + 12.0, l.axis));
    let g = l.guard;
    v.edge(sheet, Line::Hidden, (l.flyer.0 - 8.0, 0.0), (l.front_bearing - l.upright_thick / 2.0, l.axis + g));
    side_measures(sheet, v, s);
    side_marks(sheet, v, s);
}

fn motor_side(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let (l, w) = (&s.layout, &s.wish);
    let r = w.motor_case.0 / 2.0;
    let small = s.motor_pulley.height();
    for x in l.stand {
        v.part(sheet, Fill::Part, (x - l.upright_thick / 2.0, 0.0), (x + l.upright_thick / 2.0, l.motor.1 + OVER));
    }
    v.part(sheet, Fill::OtherPart, (l.motor_from, l.motor.1 - r), (l.motor_from + w.motor_case.1, l.motor.1 + r));
    lying(sheet, v, &s.motor_pulley.outer, l.pulley - small / 2.0, 1.0, l.motor.1, Fill::Paper);
    let shaft = w.motor_shaft / 2.0;
    v.part(sheet, Fill::OtherPart, (l.pulley + small / 2.0, l.motor.1 - shaft), (l.motor_from, l.motor.1 + shaft));
    v.line(sheet, Line::Centre, (l.pulley - 16.0, l.motor.1), (l.motor_from + w.motor_case.1 + 8.0, l.motor.1));
}

fn flyer_side(sheet: &mut Sheet, v: &View, l: &Layout) {
    for sign in [1.0, -1.0] {
        let (near, far) = (l.axis + sign * l.arm, l.axis + sign * (l.arm + l.arm_section));
        v.part(sheet, Fill::Part, (l.flyer.0, near), (l.flyer.1, far));
    }
    v.part(
        sheet,
        Fill::Part,
        (l.flyer.0, l.axis - l.arm - l.arm_section),
        (l.flyer.0 + 10.0, l.axis + l.arm + l.arm_section),
    );
    // Hooks along the upper arm; yarn from the orifice over the hooks to the bobbin.
    let top = l.axis + l.arm + l.arm_section;
    let mut x = l.flyer.0 + 16.0;
    while x < l.flyer.1 - 6.0 {
        v.trace(sheet, Line::Detail, &[(x, top), (x, top + 4.0), (x + 3.0, top + 4.0)]);
        x += 12.0;
    }
    let hook = l.flyer.0 + 16.0 + 12.0 * (((l.flyer.1 - l.flyer.0) / 24.0).floor() - 1.0).max(1.0);
    let yarn = [
        (-20.0, l.axis),
        (l.flyer.0 - 4.0, l.axis),
        (l.flyer.0 + 16.0, top + 4.0),
        (hook, top + 4.0),
        (hook + 4.0, l.axis + l.arm * 0.45),
    ];
    v.trace(sheet, Line::Curve, &yarn);
}

fn side_measures(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let (l, w) = (&s.layout, &s.wish);
    let up = |a: (f64, f64)| v.at(a.0, a.1);
    let below = v.at(0.0, -l.base.2).y + 14.0;
    dim::horizontal(sheet, up((0.0, -l.base.2)), up((l.base.0, -l.base.2)), below, &v.len(l.base.0));
    let over = v.at(0.0, l.axis + l.guard).y - 4.0;
    for (from, to) in [l.bobbin, (l.front_bearing, l.rear_bearing)] {
        let [a, b] = [from, to].map(|x| Point::new(v.at(x, 0.0).x, over + 5.0));
        dim::horizontal(sheet, a, b, over, &v.len(to - from));
    }
    let right = v.at(l.base.0, 0.0).x + 6.0;
    dim::vertical(sheet, up((l.spindle_end, l.axis)), up((l.base.0, 0.0)), right, &v.len(l.axis));
    let left = v.at(0.0, 0.0).x - 7.0;
    let flange = w.flange / 2.0;
    dim::vertical(
        sheet,
        up((l.bobbin.0, l.axis + flange)),
        up((l.bobbin.0, l.axis - flange)),
        left,
        &format!("ø {}", v.len(w.flange)),
    );
}

fn side_marks(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let l = &s.layout;
    let (r, case) = (s.spindle_pulley.reach(), s.wish.motor_case);
    // A row above the drawing and a row below it, so that rings lie on nothing.
    let above = v.at(0.0, l.axis + l.guard).y - 12.0;
    let below = v.at(0.0, -l.base.2).y + 5.0;
    let top: [(&str, (f64, f64), f64); 6] = [
        ("3", (8.0, l.axis + 3.0), 4.0),
        ("5", (l.flyer.0 + 5.0, l.axis + l.arm), l.flyer.0 + 2.0),
        ("4", (l.flyer.0 + 84.0, l.axis + l.arm + 5.0), l.flyer.0 + 78.0),
        ("6", (l.bobbin.1 - 10.0, l.axis + s.bobbin_size.flange / 2.0 - 3.0), l.bobbin.1 - 6.0),
        ("7", (l.pulley - 1.0, l.axis + r * 0.9), l.pulley + 28.0),
        ("2", (l.rear_bearing, l.axis + 25.0), l.rear_bearing + 26.0),
    ];
    row(sheet, v, above, &top);
    let cord = (l.bobbin.1 - 4.0, l.axis - s.bobbin_size.brake_whorl / 2.0);
    v.trace(sheet, Line::Second, &[cord, (cord.0, 0.0)]);
    let low: [(&str, (f64, f64), f64); 6] = [
        ("1", (20.0, -l.base.2 / 2.0), 20.0),
        ("11", (cord.0, 14.0), cord.0 - 6.0),
        ("8", (l.pulley - 4.0, l.motor.1 - 4.0), l.pulley - 22.0),
        ("9", (l.pulley, l.axis - r - 5.0), l.pulley + 6.0),
        ("13", (l.motor_from + case.1 * 0.5, l.motor.1 - case.0 * 0.3), l.motor_from + case.1 * 0.4),
        ("14", (l.stand[1], 6.0), l.stand[1] + 8.0),
    ];
    row(sheet, v, below, &low);
}

/// Marks in a row at height `y`, from left to right, no nearer than their rings.
fn row(sheet: &mut Sheet, v: &View, y: f64, marks: &[(&str, (f64, f64), f64)]) {
    let mut x = f64::NEG_INFINITY;
    for (mark, target, wanted) in marks {
        x = v.at(*wanted, 0.0).x.max(x + 8.4);
        dim::mark(sheet, Point::new(x, y), v.at(target.0, target.1), mark);
    }
}

fn from_front(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let (l, w) = (&s.layout, &s.wish);
    heading(sheet, v.at(-l.base_left, l.axis + l.guard) - kurbo::Vec2::new(0.0, 17.0), "From the front");
    let right = l.base.1 - l.base_left;
    v.part(sheet, Fill::Part, (-l.base_left, -l.base.2), (right, 0.0));
    v.part(sheet, Fill::Part, (-l.upright_wide / 2.0, 0.0), (l.upright_wide / 2.0, l.axis + OVER));
    let stand = (l.motor.0 - l.stand_wide / 2.0, l.motor.0 + l.stand_wide / 2.0);
    v.part(sheet, Fill::Part, (stand.0, 0.0), (stand.1, l.motor.1 + OVER));
    let big = s.spindle_pulley.reach();
    v.disc(sheet, Fill::Paper, (0.0, l.axis), big);
    v.disc(sheet, Fill::OtherPart, l.motor, w.motor_case.0 / 2.0);
    v.disc(sheet, Fill::Paper, l.motor, s.motor_pulley.reach());
    belt(sheet, v, (0.0, l.axis, w.spindle_pulley / 2.0), (l.motor.0, l.motor.1, w.motor_pulley / 2.0));
    v.circle(sheet, Line::Ghost, (0.0, l.axis), l.arm + l.arm_section);
    flyer_front(sheet, v, s);
    let g = l.guard;
    v.trace(sheet, Line::Hidden, &[(-g, 0.0), (-g, l.axis + g), (g, l.axis + g), (g, 0.0)]);
    v.cross(sheet, (0.0, l.axis), 8.0);
    v.cross(sheet, l.motor, w.motor_case.0 / 2.0);
    let low = v.at(0.0, -l.base.2).y + 7.0;
    dim::horizontal(sheet, v.at(-l.base_left, -l.base.2), v.at(right, -l.base.2), low, &v.len(l.base.1));
    let away = big * v.scale + 9.0;
    dim::aligned(sheet, v.at(0.0, l.axis), v.at(l.motor.0, l.motor.1), -away, &v.len(w.centres));
    dim::vertical(sheet, v.at(l.motor.0, l.motor.1), v.at(right, 0.0), v.at(right, 0.0).x + 6.0, &v.len(l.motor.1));
    dim::mark(sheet, v.at(-g - 12.0, l.axis + g * 0.4), v.at(-g, l.axis + g * 0.4), "12");
    let lines = [
        format!("7 pitch ø {}", v.len(w.spindle_pulley)),
        format!("8 pitch ø {}", v.len(w.motor_pulley)),
        format!("9 belt ø {}", v.len(w.belt)),
    ];
    for (i, line) in lines.iter().enumerate() {
        let at = v.at(right, l.axis + g);
        sheet.words(Type::Small, Anchor::Start, (at.x - 4.0, at.y + 3.8 * i as f64), line.as_str());
    }
}

fn flyer_front(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let l = &s.layout;
    let a = l.arm_section / 2.0;
    v.part(sheet, Fill::Part, (-7.0, l.axis - l.arm - l.arm_section), (7.0, l.axis + l.arm + l.arm_section));
    v.disc(sheet, Fill::OtherPart, (0.0, l.axis), s.wish.spindle / 2.0 + 2.0);
    v.disc(sheet, Fill::Paper, (0.0, l.axis), 3.0);
    for sign in [1.0, -1.0] {
        let middle = l.axis + sign * (l.arm + a);
        v.part(sheet, Fill::Part, (-a, middle - a), (a, middle + a));
    }
    dim::turns(sheet, Line::Danger, v.at(0.0, l.axis), (l.arm + l.arm_section + 5.0) * v.scale, -150.0, -100.0);
}

/// The outer tangents of two pitch circles and the arcs between: the belt.
fn belt(sheet: &mut Sheet, v: &View, a: (f64, f64, f64), b: (f64, f64, f64)) {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = libm::hypot(dx, dy);
    let lean = libm::acos(((a.2 - b.2) / long).clamp(-1.0, 1.0));
    let way = libm::atan2(dy, dx);
    let on = |c: (f64, f64, f64), angle: f64| (c.0 + c.2 * libm::cos(angle), c.1 + c.2 * libm::sin(angle));
    for sign in [1.0, -1.0] {
        v.line(sheet, Line::Curve, on(a, way + sign * lean), on(b, way + sign * lean));
    }
    let turn = std::f64::consts::TAU;
    let arc = |c: (f64, f64, f64), from: f64, to: f64| {
        (0..=40).map(|i| on(c, from + (to - from) * f64::from(i) / 40.0)).collect::<Vec<_>>()
    };
    v.trace(sheet, Line::Curve, &arc(a, way + lean, way + turn - lean));
    v.trace(sheet, Line::Curve, &arc(b, way - lean, way + lean));
}

fn from_above(sheet: &mut Sheet, v: &View, s: &Spinner) {
    let (l, w) = (&s.layout, &s.wish);
    let right = l.base.1 - l.base_left;
    // Across goes down the paper: the motor's side towards the reader's right hand seen from the front.
    let p = |x: f64, across: f64| (x, -across);
    v.part(sheet, Fill::Part, p(0.0, -l.base_left), p(l.base.0, right));
    for board in 1..l.base_boards {
        let seam = f64::from(board) * l.base_of.wide - l.base_left;
        v.line(sheet, Line::Detail, p(0.0, seam), p(l.base.0, seam));
    }
    let r = w.motor_case.0 / 2.0;
    for x in l.stand {
        let (t, half) = (l.upright_thick / 2.0, l.stand_wide / 2.0);
        v.part(sheet, Fill::Part, p(x - t, l.motor.0 - half), p(x + t, l.motor.0 + half));
    }
    v.part(sheet, Fill::OtherPart, p(l.motor_from, l.motor.0 - r), p(l.motor_from + w.motor_case.1, l.motor.0 + r));
    for x in [l.front_bearing, l.rear_bearing] {
        let t = l.upright_thick / 2.0;
        v.part(sheet, Fill::Part, p(x - t, -l.upright_wide / 2.0), p(x + t, l.upright_wide / 2.0));
    }
    v.part(sheet, Fill::OtherPart, p(0.0, -w.spindle / 2.0), p(l.spindle_end, w.spindle / 2.0));
    lying(sheet, v, &s.bobbin.outer, l.bobbin.1, -1.0, 0.0, Fill::Paper);
    lying(sheet, v, &s.spindle_pulley.outer, l.pulley - s.spindle_pulley.height() / 2.0, 1.0, 0.0, Fill::Paper);
    lying(sheet, v, &s.motor_pulley.outer, l.pulley - s.motor_pulley.height() / 2.0, 1.0, -l.motor.0, Fill::Paper);
    let belt = w.belt / 2.0;
    v.part(
        sheet,
        Fill::Ink,
        p(l.pulley - belt, s.spindle_pulley.reach()),
        p(l.pulley + belt, l.motor.0 - s.motor_pulley.reach()),
    );
    v.part(sheet, Fill::Part, p(l.flyer.0, -7.0), p(l.flyer.0 + 10.0, 7.0));
    v.part(sheet, Fill::Part, p(l.flyer.0, -l.arm_section / 2.0), p(l.flyer.1, l.arm_section / 2.0));
    v.edge(sheet, Line::Hidden, p(l.flyer.0 - 8.0, -l.guard), p(l.front_bearing - l.upright_thick / 2.0, l.guard));
    v.line(sheet, Line::Centre, p(-10.0, 0.0), p(l.spindle_end + 12.0, 0.0));
    let x = v.at(l.base.0, 0.0).x + 6.0;
    let (a, b, c) =
        (v.at(l.base.0, l.base_left), v.at(l.spindle_end, 0.0), v.at(l.motor_from + w.motor_case.1, -l.motor.0));
    dim::vertical(sheet, a, b, x, &v.len(l.base_left));
    dim::vertical(sheet, b, c, x, &v.len(l.motor.0));
    above_measures(sheet, v, l);
    let marks = [
        ("1", (18.0, -right + 24.0), (18.0, -right + 60.0)),
        ("10", (l.rear_bearing, 0.0), (l.rear_bearing + 34.0, 34.0)),
        ("12", (l.flyer.0 - 8.0, -l.guard * 0.5), (l.flyer.0 + 20.0, -l.guard - 24.0)),
        ("14", (l.stand[1], -l.motor.0 + l.stand_wide * 0.42), (l.stand[1] + 24.0, -l.motor.0 + l.stand_wide * 0.8)),
    ];
    for (mark, target, at) in marks {
        dim::mark(sheet, v.at(at.0, at.1), v.at(target.0, target.1), mark);
    }
}

/// From the front edge to the middles of uprights and motor stand, below the base.
fn above_measures(sheet: &mut Sheet, v: &View, l: &Layout) {
    let edge = -(l.base.1 - l.base_left);
    let low = v.at(0.0, edge).y;
    for (row, stops) in [[l.front_bearing, l.rear_bearing], l.stand].into_iter().enumerate() {
        let y = low + 6.5 + 6.5 * row as f64;
        let points = [0.0, stops[0], stops[1]].map(|x| Point::new(v.at(x, 0.0).x, low));
        let gaps = [v.len(stops[0]), v.len(stops[1] - stops[0])];
        dim::chain(sheet, &points, y, &gaps);
    }
}

fn words(sheet: &mut Sheet, s: &Speeds, ruler: Ruler, at: (f64, f64)) {
    let wide = (sheet.width - 2.0 * MARGIN - 8.0) / 2.0;
    let mut lines = vec![
        format!("Flyer at work {:.0} rpm. If a switch fails on it may reach {:.0} rpm.", s.work, s.runaway),
        format!("Test a new flyer behind a board at {:.0} rpm for a minute before you trust it.", s.test),
        format!("Belt {} round both pulleys, laid on without stretch.", ruler.says(s.belt)),
    ];
    if let Some(n) = s.whirl {
        lines.push(format!("The spindle would whirl at {n:.0} rpm: stay below seven tenths of that."));
    }
    if let Some(e) = s.balance {
        lines.push(format!(
            "Balance: on two level edges the flyer stays where you put it; off-centre by less than {}.",
            ruler.says_fine(e)
        ));
    }
    let mut y = at.1;
    for line in lines {
        y = crate::draw::text::paragraph(sheet, Type::Small, (at.0, y), wide, &line) + 0.6;
    }
    caution::draw(sheet, (at.0 + wide + 8.0, at.1), wide, &[Hazard::Rotation]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::spinner::{self, SpinnerWish};

    #[test]
    fn all_marks_are_drawn_inside_the_paper() {
        let s = spinner::design(&SpinnerWish::of(22.0, 68.0, 80.0, (18.0, 63.0), 170.0, 2.0)).unwrap();
        let speeds = Speeds {
            work: 1100.0,
            runaway: 1821.0,
            test: 2276.0,
            whirl: Some(4000.0),
            balance: Some(0.05),
            belt: 480.0,
        };
        let drawn = sheets(&s, &speeds);
        let mut words = Vec::new();
        for sheet in &drawn {
            let e = extent::of(&sheet.items).unwrap();
            let inside = e.x0 > 4.0 && e.y0 > 4.0 && e.x1 < sheet.width - 4.0 && e.y1 < sheet.height - 4.0;
            assert!(inside, "{} {e:?}", sheet.name);
        }
        let both: Vec<_> = drawn[0].items.iter().chain(&drawn[1].items[..drawn[1].items.len()]).cloned().collect();
        extent::walk(&both, &mut |seen| {
            if let extent::Seen::Words { text, .. } = seen {
                words.push(text.to_string());
            }
        });
        for part in &s.parts {
            assert!(words.contains(&part.mark), "part {} has no mark", part.mark);
        }
    }
}
