//! The shapes of the flow: the river from gate to gate, the streams that turn off it, the strands, twist and picks on them.
//! All in places along and across the river, so that it may run to the right or down. Knows no words.

use kurbo::{BezPath, Point};

use super::{Stage, Stuff};
use crate::draw::chart::smooth;
use crate::draw::sheet::{Draw, Line};
use crate::draw::sheets::symbols::Symbol;

/// Inner radius of a turning stream.
pub(super) const BEND: f64 = 5.0;
/// Length of a lost stream behind its bend.
pub(super) const TAIL: f64 = 5.0;
/// How far strands hang out of a cut end.
pub(super) const FRINGE: f64 = 2.6;
/// A loss below this share of the first mass has no stream of its own.
const LEAST: f64 = 0.002;

/// Where a stage begins: along the river, its near edge across, its width, and how far on its loss turns off.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gate {
    pub(super) along: f64,
    pub(super) near: f64,
    pub(super) wide: f64,
    pub(super) lead: f64,
}

/// How a picture is laid out.
#[derive(Clone, Copy)]
pub(super) struct Plan {
    /// Width of the widest stage.
    pub(super) widest: f64,
    /// Least way from gate to gate.
    pub(super) reach: f64,
    /// Part of a loss by which the river leans away from it.
    pub(super) lean: f64,
    /// Whether the river runs down and turns to the right, rather than to the right and down.
    pub(super) down: bool,
}

impl Plan {
    /// A point of the picture from its places along and across the river.
    pub(super) fn at(self, along: f64, across: f64) -> Point {
        if self.down { Point::new(across, along) } else { Point::new(along, across) }
    }
}

/// Gates of all stages, the first at 0 along, its near edge at 0 across; losses turn off `leads` behind their gates.
pub(super) fn gates(masses: &[f64], leads: &[f64], plan: Plan) -> Vec<Gate> {
    let most = masses.iter().copied().fold(0.0, f64::max);
    let mut gates: Vec<Gate> = Vec::new();
    for (mass, lead) in masses.iter().zip(leads) {
        let wide = mass * plan.widest / most;
        let gate = match gates.last() {
            None => Gate { along: 0.0, near: 0.0, wide, lead: *lead },
            Some(last) => {
                let lost = (last.wide - wide).max(0.0);
                // Beside a stream that runs off to the right its lines of words need room as well.
                let room = match plan.down {
                    true if lost <= LEAST * plan.widest => 3.0 - BEND,
                    true => lost.max(lost / 2.0 + 7.0) + 3.5,
                    false => lost + 3.0,
                };
                let along = last.along + plan.reach.max(last.lead + BEND + room);
                Gate { along, near: last.near - plan.lean * lost, wide, lead: *lead }
            }
        };
        gates.push(gate);
    }
    gates
}

/// How far the near edge has come from one gate to the next: flat before the bend, then a smooth rise.
fn near_edge(a: Gate, b: Gate, along: f64) -> f64 {
    let start = a.along + a.lead;
    let u = ((along - start) / (b.along - start)).clamp(0.0, 1.0);
    a.near + (b.near - a.near) * u * u * (3.0 - 2.0 * u)
}

/// The river between two gates, without what turns off.
pub(super) fn reach_shape(a: Gate, b: Gate, plan: Plan) -> BezPath {
    let (start, end) = (a.along + a.lead, b.along);
    let third = (end - start) / 3.0;
    let keep = b.wide.min(a.wide);
    let mut path = BezPath::new();
    path.move_to(plan.at(a.along, a.near));
    path.line_to(plan.at(start, a.near));
    path.curve_to(plan.at(start + third, a.near), plan.at(end - third, b.near), plan.at(end, b.near));
    path.line_to(plan.at(end, b.near + b.wide));
    path.curve_to(
        plan.at(end - third, b.near + b.wide),
        plan.at(start + third, a.near + keep),
        plan.at(start, a.near + keep),
    );
    path.line_to(plan.at(start, a.near + a.wide));
    path.line_to(plan.at(a.along, a.near + a.wide));
    path.close_path();
    path
}

/// A stream that turns off: the centre of its bend and its inner and outer radius.
#[derive(Clone, Copy)]
pub(super) struct Stream {
    pub(super) along: f64,
    across: f64,
    pub(super) wide: f64,
}

impl Stream {
    /// The stream lost between two gates, if it is wide enough to be drawn.
    pub(super) fn between(a: Gate, b: Gate, plan: Plan) -> Option<Stream> {
        let wide = a.wide - b.wide;
        let seen = wide > LEAST * plan.widest;
        seen.then_some(Stream { along: a.along + a.lead, across: a.near + a.wide + BEND, wide })
    }

    /// The point at `radius` from the centre, `turned` degrees into the bend.
    fn bend(self, plan: Plan, radius: f64, turned: f64) -> Point {
        let (s, c) = libm::sincos(turned.to_radians());
        plan.at(self.along + radius * s, self.across - radius * c)
    }

    /// An arc of the bend at `radius` between two turns in degrees, as one curve, from where the path stands.
    fn arc(self, plan: Plan, radius: f64, (from, to): (f64, f64), path: &mut BezPath) {
        let sweep = (to - from).to_radians();
        let arm = 4.0 / 3.0 * libm::tan(sweep / 4.0) * radius;
        let ahead = |turned: f64| {
            let (s, c) = libm::sincos(turned.to_radians());
            plan.at(c, s).to_vec2()
        };
        let (start, end) = (self.bend(plan, radius, from), self.bend(plan, radius, to));
        path.curve_to(start + ahead(from) * arm, end - ahead(to) * arm, end);
    }

    /// Where the stuff of the stage ends in the bend: strand by strand, like the edge of a dipped warp.
    pub(super) fn dipped(self, plan: Plan, apart: f64) -> BezPath {
        let mut path = BezPath::new();
        let count = (self.wide / apart).round().max(1.0) as usize;
        for n in 0..count {
            let radius = |n: usize| BEND + self.wide * n as f64 / count as f64;
            let turned = 34.0 + 13.0 * libm::sin(n as f64 * 2.1) + 9.0 * libm::sin(n as f64 * 5.3);
            // A little of the straight stretch is covered as well, so that no hairline of ground shines through.
            let back = plan.at(-0.4, 0.0).to_vec2();
            path.move_to(self.bend(plan, radius(n), 0.0) + back);
            path.line_to(self.bend(plan, radius(n), 0.0));
            self.arc(plan, radius(n), (0.0, turned), &mut path);
            path.line_to(self.bend(plan, radius(n + 1), turned));
            self.arc(plan, radius(n + 1), (turned, 0.0), &mut path);
            path.line_to(self.bend(plan, radius(n + 1), 0.0) + back);
            path.close_path();
        }
        path
    }

    pub(super) fn shape(self, plan: Plan) -> BezPath {
        let (inner, outer) = (BEND, BEND + self.wide);
        let tail = plan.at(0.0, TAIL).to_vec2();
        let mut path = BezPath::new();
        path.move_to(self.bend(plan, outer, 0.0));
        self.arc(plan, outer, (0.0, 90.0), &mut path);
        path.line_to(self.bend(plan, outer, 90.0) + tail);
        path.line_to(self.bend(plan, inner, 90.0) + tail);
        path.line_to(self.bend(plan, inner, 90.0));
        self.arc(plan, inner, (90.0, 0.0), &mut path);
        path.close_path();
        path
    }

    /// The middle of its cut end.
    pub(super) fn end(self, plan: Plan) -> Point {
        self.bend(plan, BEND + self.wide / 2.0, 90.0) + plan.at(0.0, TAIL).to_vec2()
    }
}

/// How far strands wander, by how the fibre lies at that stage.
fn waves(stages: &[&Stage], i: usize) -> f64 {
    match (stages[i].stuff, stages[i].symbol) {
        (Stuff::Fibre, Symbol::Sliver) => 0.10,
        (Stuff::Fibre, Symbol::Lint) => 0.38,
        (Stuff::Fibre, _) => 0.62,
        _ => 0.0,
    }
}

/// The way between strands, so that a whole number of them fills the widest stage.
pub(super) fn strand_gap(plan: Plan) -> f64 {
    plan.widest / (plan.widest / 1.9).floor().max(1.0)
}

/// Strands of fibre all along the river and out with what is lost.
pub(super) fn strands(draw: &mut impl Draw, stages: &[&Stage], gates: &[Gate], plan: Plan) {
    let apart = strand_gap(plan);
    let count = (plan.widest / apart).round() as usize;
    for n in 0..count {
        strand(draw, stages, gates, plan, (n as f64 + 0.5) * apart, n);
    }
}

/// The strand that lies `offset` from the near edge.
fn strand(draw: &mut impl Draw, stages: &[&Stage], gates: &[Gate], plan: Plan, offset: f64, n: usize) {
    let mut points: Vec<Point> = Vec::new();
    for (i, pair) in gates.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        if offset > a.wide {
            continue;
        }
        let turns = offset > b.wide;
        let stop = if turns { a.along + a.lead } else { b.along };
        let (from, to) = (waves(stages, i), waves(stages, i + 1));
        let steps = ((stop - a.along) / 3.0).ceil().max(1.0) as usize;
        for k in 0..steps {
            let along = a.along + (stop - a.along) * k as f64 / steps as f64;
            let u = (along - a.along) / (b.along - a.along);
            let calm = if turns { ((stop - along) / 6.0).clamp(0.0, 1.0) } else { 1.0 };
            let wave = (from + (to - from) * u * u) * calm * libm::sin(along * 0.52 + n as f64 * 2.4);
            points.push(plan.at(along, near_edge(a, b, along) + offset + wave));
        }
        if turns {
            if let Some(stream) = Stream::between(a, b, plan) {
                let radius = BEND + stream.wide - (offset - b.wide);
                points.extend((0..=6).map(|k| stream.bend(plan, radius, f64::from(k) * 15.0)));
                let fringe = TAIL + FRINGE * (0.55 + 0.45 * libm::sin(n as f64 * 5.1));
                points.push(stream.bend(plan, radius, 90.0) + plan.at(0.0, fringe).to_vec2());
            }
            break;
        }
        if i + 2 == gates.len() {
            points.push(plan.at(b.along, b.near + offset));
        }
    }
    if points.len() > 1 {
        draw.path(Line::Hatch, smooth(&points));
    }
}

/// Strands that run on to the end of the river and hang out of it.
pub(super) fn fringe(draw: &mut impl Draw, from: Gate, end: Gate, plan: Plan) {
    let apart = strand_gap(plan);
    let mut lines = BezPath::new();
    let count = (from.wide / apart - 0.5).ceil().max(0.0) as usize;
    for n in 0..count {
        let across = from.near + (n as f64 + 0.5) * apart;
        lines.move_to(plan.at(from.along, across));
        lines.line_to(plan.at(end.along + FRINGE * (0.6 + 0.4 * libm::sin(n as f64 * 5.1)), across));
    }
    draw.path(Line::Hatch, lines);
}

/// The twist of each yarn, or the picks of cloth, across the river between two gates.
pub(super) fn crossings(draw: &mut impl Draw, stuff: Stuff, a: Gate, b: Gate, plan: Plan) {
    let apart = strand_gap(plan);
    let mut lines = BezPath::new();
    let mut along = a.along + apart / 2.0;
    while along < b.along {
        let wide = if along < a.along + a.lead { a.wide } else { a.wide.min(b.wide) };
        let near = near_edge(a, b, along);
        match stuff {
            Stuff::Fibre => return,
            Stuff::Yarn => twist(&mut lines, plan, (along, near, wide), (apart, b.along)),
            Stuff::Cloth => {
                lines.move_to(plan.at(along, near + wide));
                lines.line_to(plan.at(along, near));
            }
        }
        along += apart;
    }
    draw.path(Line::Hatch, lines);
}

/// A mark of twist on each yarn that lies side by side at one place of the river, as the middle stroke of a Z.
fn twist(lines: &mut BezPath, plan: Plan, (along, near, wide): (f64, f64, f64), (apart, stop): (f64, f64)) {
    let lean = (0.62 * apart).min(stop - along);
    // Yarns lie between strands; the first and last are narrower.
    let mut across = -0.5 * apart;
    while across < wide {
        let (from, to) = (across.max(0.0), (across + apart).min(wide));
        let share = (to - from) / apart;
        if share > 0.25 {
            let (left, right) = (plan.at(along, near + to), plan.at(along + lean * share, near + from));
            // On its side the picture is mirrored; a Z stays a Z only if the mark is mirrored back.
            let (left, right) = if plan.down {
                (plan.at(along + lean * share, near + from), plan.at(along, near + to))
            } else {
                (left, right)
            };
            lines.move_to(left);
            lines.line_to(right);
        }
        across += apart;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::Shape;

    /// Identity: the area of a stream's cut end and the river's gates are as the masses.
    #[test]
    fn widths_are_as_the_masses() {
        let plan = Plan { widest: 40.0, reach: 30.0, lean: 0.2, down: false };
        let masses = [1.0, 0.34, 0.3, 0.31];
        let gates = gates(&masses, &[7.0; 4], plan);
        for (gate, mass) in gates.iter().zip(masses) {
            assert!((gate.wide - 40.0 * mass).abs() < 1e-9);
        }
        let stream = Stream::between(gates[0], gates[1], plan).expect("lost");
        let e = stream.shape(plan).bounding_box();
        assert!((e.width() - (BEND + 40.0 * 0.66)).abs() < 0.01, "{e:?}");
        assert!(Stream::between(gates[2], gates[3], plan).is_none(), "a gain turns nothing off");
    }

    #[test]
    fn streams_do_not_cross_the_river_or_each_other() {
        let plan = Plan { widest: 46.0, reach: 35.0, lean: 0.16, down: false };
        let gates = gates(&[1.0, 0.4, 0.2, 0.12, 0.1], &[7.0; 5], plan);
        let boxes: Vec<_> = gates
            .windows(2)
            .filter_map(|p| Stream::between(p[0], p[1], plan))
            .map(|s| (s.along + BEND, s.along + BEND + s.wide))
            .collect();
        for pair in boxes.windows(2) {
            assert!(pair[0].1 < pair[1].0, "{boxes:?}");
        }
    }
}
