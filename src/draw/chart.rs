//! Charts: axes with good steps, curves named at their ends instead of in a legend, bands of doubt, dots, bars, limits and
//! good ranges. Takes plain numbers in the axes' own units; what they mean is the caller's. Whatever leaves the frame is cut
//! off at it; a point that is not a finite number breaks its curve.

use std::ops::RangeInclusive;

use kurbo::{BezPath, Point, Rect, Shape, Vec2};

use crate::draw::sheet::{Anchor, Draw, Fill, Line, Type};
use crate::draw::text;

/// One axis: its name with unit, its ends, its stops.
#[derive(Clone, Debug)]
pub struct Axis {
    name: String,
    low: f64,
    high: f64,
    /// Stops with their words, or `None` for even steps.
    stops: Option<Vec<(f64, String)>>,
    widen: bool,
}

impl Axis {
    /// From `low` to `high`, widened to whole steps. Ends that are not finite, or the wrong way round, become 0 to 1.
    pub fn over(name: &str, low: f64, high: f64) -> Self {
        let sound = low.is_finite() && high.is_finite() && high >= low && (high - low).is_finite();
        let (low, high) = if sound { (low, high) } else { (0.0, 1.0) };
        let (low, high) = if high - low > 1e-12 * low.abs().max(high.abs()) { (low, high) } else { around(low) };
        Axis { name: name.to_string(), low, high, stops: None, widen: true }
    }
    /// Exactly from `low` to `high`, steps inside.
    pub fn exactly(name: &str, low: f64, high: f64) -> Self {
        Axis { widen: false, ..Axis::over(name, low, high) }
    }
    /// As large as all `values` need, zero included where `with_zero`.
    pub fn of(name: &str, values: impl IntoIterator<Item = f64>, with_zero: bool) -> Self {
        let start = if with_zero { (0.0, 0.0) } else { (f64::INFINITY, f64::NEG_INFINITY) };
        let finite = values.into_iter().filter(|v| v.is_finite());
        let (low, high) = finite.fold(start, |(l, h), v| (f64::min(l, v), f64::max(h, v)));
        Axis::over(name, low, high)
    }
    /// Stops with words of their own, on an axis exactly from `low` to `high`.
    pub fn named(name: &str, low: f64, high: f64, stops: Vec<(f64, String)>) -> Self {
        Axis { stops: Some(stops), ..Axis::exactly(name, low, high) }
    }

    /// Stops at least `least` millimetres apart on `length` millimetres, farther where `room` of their words asks for it;
    /// the axis widened to them where it may be.
    fn settle(&mut self, length: f64, least: f64, room: impl Fn(&str) -> f64) -> Vec<(f64, String)> {
        if let Some(stops) = &self.stops {
            return stops.iter().filter(|(v, _)| (self.low..=self.high).contains(v)).cloned().collect();
        }
        let span = self.high - self.low;
        let mut step = good_step(span * least / length.max(least));
        let widest = |step: f64| [self.low, self.high].map(|v| room(&stop_words((v / step).round() * step, step)));
        while step < span / 2.0 && widest(step).into_iter().fold(0.0, f64::max) > length * step / span {
            step = good_step(step * 1.01);
        }
        if self.widen {
            self.low = (self.low / step + 1e-9).floor() * step;
            self.high = (self.high / step - 1e-9).ceil() * step;
        }
        let first = (self.low / step - 1e-9).ceil();
        let count = ((self.high / step + 1e-9).floor() - first).clamp(0.0, 200.0) as usize;
        (0..=count).map(|i| (first + i as f64) * step).map(|v| (v, stop_words(v, step))).collect()
    }

    /// Where `value` lies, 0 at the low end and 1 at the high one.
    fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }
}

/// A range round a single value.
fn around(value: f64) -> (f64, f64) {
    let half = if value == 0.0 { 1.0 } else { value.abs() / 2.0 };
    (value - half, value + half)
}

/// The smallest of 1, 2, 5 times a power of ten that is not below `least`.
fn good_step(least: f64) -> f64 {
    let mut power = 1.0;
    while power < least && power < 1e300 {
        power *= 10.0;
    }
    while power / 10.0 >= least && power > 1e-300 {
        power /= 10.0;
    }
    let fits = [power / 5.0, power / 2.0].into_iter().find(|step| *step >= least * (1.0 - 1e-9));
    fits.unwrap_or(power)
}

/// A stop's number, with as many decimals as its step needs and a true minus sign.
fn stop_words(value: f64, step: f64) -> String {
    let mut decimals = 0;
    let mut unit = step;
    while decimals < 9 && (unit - unit.round()).abs() > 1e-6 {
        unit *= 10.0;
        decimals += 1;
    }
    let size = value.abs();
    let mut words = format!("{size:.decimals$}");
    if size >= 10_000.0 {
        let (whole, rest) = words.split_at(words.find('.').unwrap_or(words.len()));
        let spaced: Vec<String> =
            whole.as_bytes().rchunks(3).rev().map(|c| c.iter().map(|b| *b as char).collect()).collect();
        words = spaced.join("\u{202f}") + rest;
    }
    if value < -0.5 * step.min(1e-9) { format!("−{words}") } else { words }
}

#[derive(Clone, Debug)]
enum Mark {
    Curve { line: Line, points: Vec<(f64, f64)>, name: String },
    Band { points: Vec<(f64, f64, f64)>, edges: bool },
    Dots { fill: Fill, points: Vec<(f64, f64)>, radius: f64 },
    Bars { fill: Fill, bars: Vec<(f64, f64)>, width: f64 },
    Whiskers { bars: Vec<(f64, f64, f64)> },
    Across { line: Line, at: f64, name: String },
    Upright { line: Line, at: f64, name: String },
    Range { fill: Fill, range: RangeInclusive<f64>, upright: bool, name: String },
    Note { at: (f64, f64), way: (f64, f64), words: String },
}

/// A chart being put together; nothing is drawn before [`Chart::draw`].
#[derive(Clone, Debug)]
pub struct Chart {
    frame: Rect,
    x: Axis,
    y: Axis,
    marks: Vec<Mark>,
}

/// Room right of the plot for the names of curves, at most.
const NAMES: f64 = 34.0;

impl Chart {
    /// A chart that fills `frame`, names and numbers of its axes included.
    pub fn new(frame: Rect, x: Axis, y: Axis) -> Self {
        Chart { frame, x, y, marks: Vec::new() }
    }
    /// A curve through points, named at its right end.
    pub fn curve(mut self, line: Line, points: impl IntoIterator<Item = (f64, f64)>, name: &str) -> Self {
        self.marks.push(Mark::Curve { line, points: points.into_iter().collect(), name: name.to_string() });
        self
    }
    /// A band of doubt: x, low, high.
    pub fn band(mut self, points: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        self.marks.push(Mark::Band { points: points.into_iter().collect(), edges: true });
        self
    }
    /// Dots of `radius` millimetres.
    pub fn dots(mut self, fill: Fill, points: impl IntoIterator<Item = (f64, f64)>, radius: f64) -> Self {
        self.marks.push(Mark::Dots { fill, points: points.into_iter().collect(), radius });
        self
    }
    /// Upright bars from zero: x, height; `width` in the x axis' unit.
    pub fn bars(mut self, fill: Fill, bars: impl IntoIterator<Item = (f64, f64)>, width: f64) -> Self {
        self.marks.push(Mark::Bars { fill, bars: bars.into_iter().collect(), width });
        self
    }
    /// Upright ranges: x, low, high.
    pub fn whiskers(mut self, bars: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        self.marks.push(Mark::Whiskers { bars: bars.into_iter().collect() });
        self
    }
    /// A level line over the whole width, named on it.
    pub fn across(mut self, line: Line, at: f64, name: &str) -> Self {
        self.marks.push(Mark::Across { line, at, name: name.to_string() });
        self
    }
    /// An upright line over the whole height, named at its top.
    pub fn upright(mut self, line: Line, at: f64, name: &str) -> Self {
        self.marks.push(Mark::Upright { line, at, name: name.to_string() });
        self
    }
    /// A tinted range of y over the whole width (`upright`: of x over the whole height), named in its corner.
    pub fn range(mut self, fill: Fill, range: RangeInclusive<f64>, upright: bool, name: &str) -> Self {
        self.marks.push(Mark::Range { fill, range, upright, name: name.to_string() });
        self
    }
    /// Words with a leader to a point of the chart; `way` is where they stand from it, in millimetres.
    pub fn note(mut self, at: (f64, f64), way: (f64, f64), words: &str) -> Self {
        self.marks.push(Mark::Note { at, way, words: words.to_string() });
        self
    }

    /// Draws everything; gives the settled chart, which knows where a value lies.
    pub fn draw(mut self, draw: &mut impl Draw) -> Plot {
        let high = self.frame.height() - 9.0;
        let y_stops = self.y.settle(high, 9.0, |_| 0.0);
        let numbers = y_stops.iter().map(|(_, w)| text::width(Type::Figure, w)).fold(0.0, f64::max);
        let names = self.names_room();
        let left = self.frame.x0 + numbers + 2.2;
        let right = (self.frame.x1 - names).max(left + 10.0);
        let top = self.frame.y0 + if self.y.name.is_empty() { 2.0 } else { 6.2 };
        let under = if self.x.name.is_empty() { 5.0 } else { 9.4 };
        let bottom = (self.frame.y1 - under).max(top + 10.0);
        let x_stops = self.x.settle(right - left, 9.0, |words| text::width(Type::Figure, words) + 4.0);
        let plot = Plot { area: Rect::new(left, top, right, bottom), x: self.x.clone(), y: self.y.clone() };
        self.ground(draw, &plot, &x_stops, &y_stops);
        for mark in &self.marks {
            plot.mark(draw, mark);
        }
        plot.axes(draw, &x_stops, &y_stops);
        let ends: Vec<(f64, &str)> = self.ends(&plot);
        end_names(draw, &plot, &ends);
        plot
    }

    /// Room for the names of curves right of the plot.
    fn names_room(&self) -> f64 {
        let names = self.marks.iter().filter_map(|m| match m {
            Mark::Curve { name, .. } if !name.is_empty() => Some(text::width(Type::Small, name) + 2.6),
            _ => None,
        });
        names.fold(3.0, f64::max).min(NAMES).min(self.frame.width() / 3.0)
    }

    /// Ranges first, then the grid.
    fn ground(&self, draw: &mut impl Draw, plot: &Plot, x_stops: &[(f64, String)], y_stops: &[(f64, String)]) {
        for mark in &self.marks {
            plot.range(draw, mark);
        }
        for (v, _) in y_stops {
            let y = plot.at(0.0, *v).y;
            draw.line(Line::Grid, (plot.area.x0, y), (plot.area.x1, y));
        }
        for (v, _) in x_stops {
            let x = plot.at(*v, 0.0).x;
            draw.line(Line::Grid, (x, plot.area.y0), (x, plot.area.y1));
        }
    }

    /// The height at which each named curve leaves the plot or ends.
    fn ends<'a>(&'a self, plot: &Plot) -> Vec<(f64, &'a str)> {
        let mut ends = Vec::new();
        for mark in &self.marks {
            let Mark::Curve { points, name, .. } = mark else { continue };
            let last = plot.runs(points).pop().and_then(|run| run.last().copied());
            if let (Some(end), false) = (last, name.is_empty()) {
                if end.x > plot.area.x1 - 2.0 {
                    ends.push((end.y, name.as_str()));
                } else {
                    ends.push((end.y.clamp(plot.area.y0, plot.area.y1), name.as_str()));
                }
            }
        }
        ends
    }
}

/// A chart that is drawn: where its values lie on the sheet.
#[derive(Clone, Debug)]
pub struct Plot {
    /// The plot inside the axes.
    pub area: Rect,
    x: Axis,
    y: Axis,
}

impl Plot {
    /// Where a value lies on the sheet.
    pub fn at(&self, x: f64, y: f64) -> Point {
        let a = self.area;
        Point::new(a.x0 + self.x.share(x) * a.width(), a.y1 - self.y.share(y) * a.height())
    }

    fn axes(&self, draw: &mut impl Draw, x_stops: &[(f64, String)], y_stops: &[(f64, String)]) {
        let a = self.area;
        draw.line(Line::Axis, (a.x0, a.y1), (a.x1, a.y1));
        draw.line(Line::Axis, (a.x0, a.y0), (a.x0, a.y1));
        for (v, words) in x_stops {
            let x = self.at(*v, 0.0).x;
            draw.line(Line::Axis, (x, a.y1), (x, a.y1 + 1.2));
            draw.words(Type::Figure, Anchor::Middle, (x, a.y1 + 4.2), words.as_str());
        }
        for (v, words) in y_stops {
            let y = self.at(0.0, *v).y;
            draw.line(Line::Axis, (a.x0 - 1.2, y), (a.x0, y));
            let drop = Type::Figure.size() * text::CAPITAL / 2.0;
            draw.words(Type::Figure, Anchor::End, (a.x0 - 2.0, y + drop), words.as_str());
        }
        if !self.x.name.is_empty() {
            draw.words(Type::Note, Anchor::End, (a.x1, a.y1 + 8.4), self.x.name.as_str());
        }
        if !self.y.name.is_empty() {
            draw.words(Type::Note, Anchor::Start, (a.x0, a.y0 - 2.6), self.y.name.as_str());
        }
    }

    /// A tinted range and its name.
    fn range(&self, draw: &mut impl Draw, mark: &Mark) {
        let Mark::Range { fill, range, upright, name } = mark else { return };
        let (low, high) = (*range.start(), *range.end());
        if !(low.is_finite() && high.is_finite()) {
            return;
        }
        let a = self.area;
        let whole = if *upright {
            Rect::new(self.at(low, 0.0).x, a.y0, self.at(high, 0.0).x, a.y1)
        } else {
            Rect::new(a.x0, self.at(0.0, high).y, a.x1, self.at(0.0, low).y)
        };
        let seen = whole.intersect(a);
        if seen.area() > 0.0 {
            draw.area(*fill, None, seen.to_path(0.1));
            let at = Point::new(seen.x0 + 1.2, seen.y0 + 1.0 + Type::Note.size() * text::CAPITAL);
            draw.words(Type::Note, Anchor::Start, at, name.as_str());
        }
    }

    fn mark(&self, draw: &mut impl Draw, mark: &Mark) {
        match mark {
            Mark::Curve { line, points, .. } => {
                for run in self.runs(points) {
                    draw.trace(*line, run);
                }
            }
            Mark::Band { points, edges } => self.band(draw, points, *edges),
            Mark::Dots { fill, points, radius } => {
                for (x, y) in points {
                    let at = self.at(*x, *y);
                    if at.is_finite() && self.area.inflate(0.01, 0.01).contains(at) {
                        draw.spot(*fill, at, *radius);
                    }
                }
            }
            Mark::Bars { fill, bars, width } => self.bars(draw, *fill, bars, *width),
            Mark::Whiskers { bars } => self.whiskers(draw, bars),
            Mark::Across { line, at, name } => self.level(draw, *line, *at, name),
            Mark::Upright { line, at, name } => self.pole(draw, *line, *at, name),
            Mark::Note { at, way, words } => {
                let target = self.at(at.0, at.1);
                let lines: Vec<&str> = words.lines().collect();
                super::dimension::leader(draw, target, target + Vec2::new(way.0, way.1), &lines);
            }
            Mark::Range { .. } => {}
        }
    }

    fn band(&self, draw: &mut impl Draw, points: &[(f64, f64, f64)], edges: bool) {
        let sound: Vec<_> = points.iter().filter(|(x, l, h)| (x + l + h).is_finite()).collect();
        let upper: Vec<(f64, f64)> = sound.iter().map(|(x, _, h)| (*x, *h)).collect();
        let lower: Vec<(f64, f64)> = sound.iter().map(|(x, l, _)| (*x, *l)).collect();
        let round = upper.iter().chain(lower.iter().rev()).map(|(x, y)| self.at(*x, *y));
        let inside = clipped_area(round.collect(), self.area);
        if inside.len() > 2 {
            draw.polygon(Fill::Doubt, None, inside);
        }
        for edge in [upper, lower].iter().filter(|_| edges) {
            for run in self.runs(edge) {
                draw.trace(Line::Doubt, run);
            }
        }
    }

    fn bars(&self, draw: &mut impl Draw, fill: Fill, bars: &[(f64, f64)], width: f64) {
        for (x, y) in bars.iter().filter(|(x, y)| (x + y).is_finite()) {
            let (foot, head) = (self.at(x - width / 2.0, 0.0), self.at(x + width / 2.0, *y));
            let bar = Rect::from_points(foot, head).intersect(self.area);
            if bar.area() > 0.0 {
                draw.area(fill, Some(Line::Detail), bar.to_path(0.1));
            }
        }
    }

    fn whiskers(&self, draw: &mut impl Draw, bars: &[(f64, f64, f64)]) {
        for (x, low, high) in bars.iter().filter(|(x, l, h)| (x + l + h).is_finite()) {
            let (foot, head) = (self.at(*x, *low), self.at(*x, *high));
            if let Some((a, b)) = clipped(foot, head, self.area) {
                draw.line(Line::Axis, a, b);
                for end in [foot, head].into_iter().filter(|p| self.area.inflate(0.01, 0.01).contains(*p)) {
                    draw.line(Line::Axis, (end.x - 0.9, end.y), (end.x + 0.9, end.y));
                }
            }
        }
    }

    fn level(&self, draw: &mut impl Draw, line: Line, at: f64, name: &str) {
        let y = self.at(0.0, at).y;
        if y >= self.area.y0 - 0.01 && y <= self.area.y1 + 0.01 {
            draw.line(line, (self.area.x0, y), (self.area.x1, y));
            draw.words(Type::Figure, Anchor::End, (self.area.x1 - 0.8, y - 1.0), name);
        }
    }

    fn pole(&self, draw: &mut impl Draw, line: Line, at: f64, name: &str) {
        let x = self.at(at, 0.0).x;
        if x >= self.area.x0 - 0.01 && x <= self.area.x1 + 0.01 {
            draw.line(line, (x, self.area.y0), (x, self.area.y1));
            let beyond = x + 1.0 + text::width(Type::Figure, name) > self.area.x1;
            let (anchor, x) = if beyond { (Anchor::End, x - 1.0) } else { (Anchor::Start, x + 1.0) };
            draw.words(Type::Figure, anchor, (x, self.area.y0 + 3.0), name);
        }
    }

    /// The parts of a curve that are inside the plot.
    fn runs(&self, points: &[(f64, f64)]) -> Vec<Vec<Point>> {
        let mut runs: Vec<Vec<Point>> = Vec::new();
        for pair in points.windows(2) {
            let (a, b) = (self.at(pair[0].0, pair[0].1), self.at(pair[1].0, pair[1].1));
            if !(a.is_finite() && b.is_finite()) {
                continue;
            }
            let Some((a, b)) = clipped(a, b, self.area) else { continue };
            match runs.last_mut() {
                Some(run) if run.last().is_some_and(|p| p.distance(a) < 1e-6) => run.push(b),
                _ => runs.push(vec![a, b]),
            }
        }
        runs
    }
}

/// Names of curves right of the plot, moved apart where they would touch.
fn end_names(draw: &mut impl Draw, plot: &Plot, ends: &[(f64, &str)]) {
    let wide = NAMES - 2.6;
    let mut blocks: Vec<(f64, f64, Vec<String>)> =
        ends.iter().map(|(y, name)| (*y, *y, text::wrap(Type::Small, name, wide))).collect();
    blocks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let high = |lines: &Vec<String>| lines.len() as f64 * text::leading(Type::Small);
    let heights: Vec<f64> = blocks.iter().map(|b| high(&b.2)).collect();
    let mut middles: Vec<f64> = blocks.iter().map(|b| b.0).collect();
    spread(&mut middles, &heights, plot.area.y1 + 2.0);
    for ((end, _, lines), middle) in blocks.iter_mut().zip(middles) {
        let x = plot.area.x1;
        if (middle - *end).abs() > 1.0 {
            draw.line(Line::Dimension, (x + 0.3, *end), (x + 1.4, middle));
        }
        let top = middle - high(lines) / 2.0;
        for (i, line) in lines.iter().enumerate() {
            let base = text::base(Type::Small, top + i as f64 * text::leading(Type::Small));
            draw.words(Type::Small, Anchor::Start, (x + 1.8, base), line.as_str());
        }
    }
}

/// Moves sorted middles of blocks apart so that none overlap and none ends below `bottom`, each as little as may be.
pub fn spread(middles: &mut [f64], heights: &[f64], bottom: f64) {
    for i in 1..middles.len() {
        let least = middles[i - 1] + (heights[i - 1] + heights[i]) / 2.0;
        // Two that touch share the way: the upper half of it goes up, later pushes mend what that breaks.
        if middles[i] < least {
            let half = (least - middles[i]) / 2.0;
            middles[i] += half;
            for k in (0..i).rev() {
                let most = middles[k + 1] - (heights[k] + heights[k + 1]) / 2.0;
                middles[k] = middles[k].min(most);
            }
        }
    }
    if let (Some(last), Some(high)) = (middles.last_mut(), heights.last()) {
        *last = last.min(bottom - high / 2.0);
    }
    for k in (0..middles.len().saturating_sub(1)).rev() {
        middles[k] = middles[k].min(middles[k + 1] - (heights[k] + heights[k + 1]) / 2.0);
    }
}

/// The part of a straight line inside a rectangle (Liang and Barsky 1984).
fn clipped(a: Point, b: Point, area: Rect) -> Option<(Point, Point)> {
    let way = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [(-way.x, a.x - area.x0), (way.x, area.x1 - a.x), (-way.y, a.y - area.y0), (way.y, area.y1 - a.y)];
    for (speed, room) in sides {
        if speed == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if speed < 0.0 {
            from = from.max(room / speed);
        } else {
            to = to.min(room / speed);
        }
    }
    (from <= to).then(|| (a + way * from, a + way * to))
}

/// A polygon cut to a rectangle (Sutherland and Hodgman 1974).
fn clipped_area(mut points: Vec<Point>, area: Rect) -> Vec<Point> {
    let inside: [&dyn Fn(Point) -> f64; 4] =
        [&|p| p.x - area.x0, &|p| area.x1 - p.x, &|p| p.y - area.y0, &|p| area.y1 - p.y];
    for room in inside {
        let whole = std::mem::take(&mut points);
        for (i, b) in whole.iter().copied().enumerate() {
            let a = whole[(i + whole.len() - 1) % whole.len()];
            let (ra, rb) = (room(a), room(b));
            if (ra < 0.0) != (rb < 0.0) {
                points.push(a.lerp(b, ra / (ra - rb)));
            }
            if rb >= 0.0 {
                points.push(b);
            }
        }
    }
    points
}

/// A smooth path through points (Catmull and Rom 1974), for sketches of curves that are smooth by nature.
pub fn smooth(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    let at = |i: usize| points[i.min(points.len() - 1)];
    for i in 0..points.len() {
        if i == 0 {
            path.move_to(at(0));
            continue;
        }
        let (before, a, b, after) = (at(i.saturating_sub(2)), at(i - 1), at(i), at(i + 1));
        path.curve_to(a + (b - before) / 6.0, b - (after - a) / 6.0, b);
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;

    #[test]
    fn steps_are_one_two_or_five() {
        for (least, step) in [(0.9, 1.0), (1.1, 2.0), (2.0, 2.0), (2.1, 5.0), (6.0, 10.0), (0.03, 0.05), (320.0, 500.0)]
        {
            assert!((good_step(least) - step).abs() < 1e-9 * step, "{least}: {}", good_step(least));
        }
        assert_eq!(stop_words(12_500.0, 500.0), "12\u{202f}500");
        assert_eq!(stop_words(-0.5, 0.25), "−0.50");
        assert_eq!(stop_words(0.0, 5.0), "0");
    }

    #[test]
    fn an_axis_holds_its_values_whatever_they_are() {
        for (low, high) in
            [(0.0, 97.0), (-3.0, 3.0), (5.0, 5.0), (1e-7, 3e-7), (f64::NAN, 1.0), (9.0, 1.0), (0.0, 1e18)]
        {
            let mut axis = Axis::over("a", low, high);
            let stops = axis.settle(100.0, 9.0, |words| text::width(Type::Figure, words) + 4.0);
            assert!((2..=12).contains(&stops.len()), "{low} {high}: {stops:?}");
            if low.is_finite() && high >= low {
                let slack = 1e-9 * (axis.high - axis.low);
                assert!(axis.low <= low + slack && axis.high >= high - slack, "{low} {high}: {axis:?}");
            }
        }
    }

    #[test]
    fn everything_stays_in_the_frame() {
        let frame = Rect::new(5.0, 5.0, 125.0, 85.0);
        let mut items = Vec::new();
        let wild: Vec<(f64, f64)> = (0..50).map(|i| (f64::from(i), f64::from((i * 37) % 90 - 30))).collect();
        let plot = Chart::new(frame, Axis::exactly("Time, h", 5.0, 30.0), Axis::exactly("Length, m", 0.0, 40.0))
            .curve(Line::Curve, wild.iter().copied().chain([(60.0, f64::NAN)]), "a curve with a rather long name")
            .curve(Line::Second, wild.iter().map(|(x, y)| (*x, y + 1.0)), "another")
            .band(wild.iter().map(|(x, y)| (*x, y - 9.0, y + 9.0)))
            .dots(Fill::Second, wild.iter().copied(), 0.7)
            .bars(Fill::Curve, wild.iter().copied(), 0.8)
            .range(Fill::Good, 10.0..=90.0, false, "good")
            .across(Line::Danger, 35.0, "limit")
            .draw(&mut items);
        let extent = extent::of(&items).expect("drawn");
        assert!(frame.inflate(0.8, 0.8).contains(extent.origin()), "{extent:?}");
        assert!(extent.x1 <= frame.x1 + 1e-6 && extent.y1 <= frame.y1, "{extent:?}");
        assert_eq!(plot.at(5.0, 0.0), Point::new(plot.area.x0, plot.area.y1));
    }

    #[test]
    fn names_move_apart() {
        let mut middles = vec![10.0, 10.5, 11.0, 30.0];
        let heights = [4.0, 4.0, 4.0, 4.0];
        spread(&mut middles, &heights, 60.0);
        for pair in middles.windows(2) {
            assert!(pair[1] - pair[0] >= 4.0 - 1e-9, "{middles:?}");
        }
        assert!((middles[3] - 30.0).abs() < 1e-9);
        let mut low = vec![58.0, 59.0];
        spread(&mut low, &[4.0, 4.0], 60.0);
        assert!(low[1] <= 58.0 && low[1] - low[0] >= 4.0 - 1e-9, "{low:?}");
    }

    /// Identity: a polygon around the rectangle is cut to the rectangle.
    #[test]
    fn a_polygon_is_cut_to_the_frame() {
        let area = Rect::new(0.0, 0.0, 10.0, 5.0);
        let around =
            vec![Point::new(-5.0, -5.0), Point::new(20.0, -5.0), Point::new(20.0, 20.0), Point::new(-5.0, 20.0)];
        let cut = clipped_area(around, area);
        let mut path = crate::draw::sheet::through(cut);
        path.close_path();
        assert!((path.area().abs() - 50.0).abs() < 1e-9);
        assert_eq!(path.bounding_box(), area);
    }
}
