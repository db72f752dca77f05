//! Charts: axes with good steps, curves named at their ends instead of in a legend, bands of doubt, dots, bars, limits and
//! good ranges. Takes plain numbers in the axes' own units; what they mean is the caller's. Whatever leaves the frame is cut
//! off at it; a point that is not a finite number breaks its curve.

use std::ops::RangeInclusive;

use kurbo::{Point, Rect, Shape, Vec2};

use crate::draw::sheet::{Anchor, Draw, Fill, Line, Type};
use crate::draw::text;

mod axis;
mod clip;

pub use axis::Axis;
pub use clip::smooth;
use clip::{clipped, clipped_area};

#[derive(Clone, Debug)]
enum Mark {
    Curve { line: Line, points: Vec<(f64, f64)>, name: String },
    Band { points: Vec<(f64, f64, f64)> },
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
        self.marks.push(Mark::Band { points: points.into_iter().collect() });
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
                ends.push((end.y, name.as_str()));
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
            Mark::Band { points } => self.band(draw, points),
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
                if target.is_finite() && self.area.inflate(0.01, 0.01).contains(target) {
                    super::dimension::leader(draw, target, target + Vec2::new(way.0, way.1), &lines);
                }
            }
            Mark::Range { .. } => {}
        }
    }

    fn band(&self, draw: &mut impl Draw, points: &[(f64, f64, f64)]) {
        let sound: Vec<_> = points.iter().filter(|(x, l, h)| (x + l + h).is_finite()).collect();
        let upper: Vec<(f64, f64)> = sound.iter().map(|(x, _, h)| (*x, *h)).collect();
        let lower: Vec<(f64, f64)> = sound.iter().map(|(x, l, _)| (*x, *l)).collect();
        let round = upper.iter().chain(lower.iter().rev()).map(|(x, y)| self.at(*x, *y));
        let inside = clipped_area(round.collect(), self.area);
        if inside.len() > 2 {
            draw.polygon(Fill::Doubt, None, inside);
        }
        for edge in [upper, lower] {
            for run in self.runs(&edge) {
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
    let mut blocks: Vec<(f64, Vec<String>)> =
        ends.iter().map(|(y, name)| (*y, text::wrap(Type::Small, name, NAMES - 2.6))).collect();
    blocks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let heights: Vec<f64> = blocks.iter().map(|(_, lines)| lines.len() as f64 * text::leading(Type::Small)).collect();
    let mut middles: Vec<f64> = blocks.iter().map(|b| b.0).collect();
    spread(&mut middles, &heights, plot.area.y1 + 2.0);
    for (((end, lines), middle), high) in blocks.iter().zip(middles).zip(heights) {
        let x = plot.area.x1;
        if (middle - *end).abs() > 1.0 {
            draw.line(Line::Dimension, (x + 0.3, *end), (x + 1.4, middle));
        }
        for (i, line) in lines.iter().enumerate() {
            let base = text::base(Type::Small, middle - high / 2.0 + i as f64 * text::leading(Type::Small));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;

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
}
