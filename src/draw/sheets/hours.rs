//! Hours of each step as level bars with their ranges: solid where the pace is the maker's own, hatched where it is other
//! people's. [`wide`] for a page, [`narrow`] for a phone. Takes hours as they are and adds nothing up.

use kurbo::{Affine, Rect, Shape};

use crate::draw::chart::{Axis, Chart};
use crate::draw::dimension::hatch;
use crate::draw::extent;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Point, Sheet, Type};
use crate::draw::text;
use crate::units::show::number;
use crate::units::{Duration, HOUR, Q};

/// One step of the work.
#[derive(Clone, Debug)]
pub struct Step {
    /// "spinning"
    pub name: String,
    pub middle: Q<Duration>,
    /// The middle 80 % of what it may be.
    pub low: Q<Duration>,
    pub high: Q<Duration>,
    /// Whether the pace was measured on this maker's own work.
    pub own: bool,
    /// Hours already worked, if that is known.
    pub done: Option<Q<Duration>>,
}

/// The hours of a plan.
#[derive(Clone, Debug)]
pub struct Hours {
    pub title: String,
    /// In the order of the work.
    pub steps: Vec<Step>,
    /// The whole, as the chain worked it out: a sum of ranges is not the range of a sum.
    pub total: Step,
}

/// How the bars are laid out.
#[derive(Clone, Copy)]
struct Plan {
    wide: f64,
    /// Room for names left of the bars, or 0 to set them above.
    names: f64,
    /// Room for numbers right of the longest bar.
    numbers: f64,
    row: f64,
    bar: f64,
}

/// The bars with names at the left, for a page or a wide screen.
pub fn wide(hours: &Hours) -> Sheet {
    let longest = hours.steps.iter().map(|s| text::width(Type::Body, &s.name)).fold(20.0, f64::max).min(45.0);
    bars(hours, Plan { wide: 170.0, names: longest + 4.0, numbers: 34.0, row: 8.4, bar: 4.6 })
}

/// The bars with names above them, for a phone.
pub fn narrow(hours: &Hours) -> Sheet {
    bars(hours, Plan { wide: 80.0, names: 0.0, numbers: 0.0, row: 12.4, bar: 4.2 })
}

fn sound(step: &Step) -> bool {
    let hours = |q: Q<Duration>| q.get(&HOUR).is_finite() && q.get(&HOUR) >= 0.0;
    hours(step.middle) && hours(step.low) && hours(step.high) && step.low <= step.high
}

fn bars(hours: &Hours, plan: Plan) -> Sheet {
    let steps: Vec<&Step> = hours.steps.iter().filter(|s| sound(s)).collect();
    let describe: Vec<String> = steps.iter().map(|s| format!("{} {}", s.name, step_words(s))).collect();
    let describe = format!("Hours of each step: {}.", describe.join(", "));
    let mut sheet = Sheet::new("hours", &hours.title, &describe, plan.wide, 20.0);
    let most = steps.iter().map(|s| s.high.max_of(s.middle)).fold(0.0, f64::max);
    if most <= 0.0 {
        sheet.words(Type::Body, Anchor::Start, (4.0, 10.0), "No hours to draw yet.");
        return sheet;
    }
    let high = steps.len() as f64 * plan.row + 2.0;
    let frame = Rect::new(plan.names - 4.0, 0.0, plan.wide - plan.numbers, high + 9.0);
    let none = Axis::named("", 0.0, 1.0, Vec::new());
    let plot = Chart::new(frame, Axis::exactly("hours", 0.0, most * 1.02), none).draw(&mut sheet);
    let mut y = plot.area.y0 + 1.0;
    for step in &steps {
        row(&mut sheet, step, plan, y, &|h| plot.at(h, 0.0).x);
        y += plan.row;
    }
    let y = extent::of(&sheet.items).map_or(y, |e| e.y1) + 3.0;
    foot(&mut sheet, hours, &steps, plan, y);
    extent::fitted(sheet, 4.0)
}

trait Longer {
    /// The longer of two times in hours.
    fn max_of(self, other: Self) -> f64;
}
impl Longer for Q<Duration> {
    fn max_of(self, other: Self) -> f64 {
        self.get(&HOUR).max(other.get(&HOUR))
    }
}

/// One step: its name, bar, range and number, in a row whose top is `y`.
fn row(sheet: &mut Sheet, step: &Step, plan: Plan, y: f64, x: &dyn Fn(f64) -> f64) {
    let (low, middle, high) = (step.low.get(&HOUR), step.middle.get(&HOUR), step.high.get(&HOUR));
    let words = step_words(step);
    let above = plan.names == 0.0;
    let top = if above { y + 5.2 } else { y + (plan.row - plan.bar) / 2.0 };
    let level = top + plan.bar / 2.0;
    sheet.group("step", Some(&format!("{}: {words}", step.name)), Affine::IDENTITY, |g| {
        let bar = Rect::new(x(0.0), top, x(middle), top + plan.bar).to_path(0.1);
        if step.own {
            g.area(Fill::Cloth, Some(Line::Axis), bar);
        } else {
            g.area(Fill::Yarn, Some(Line::Axis), bar.clone());
            hatch(g, &bar, 1.3, -45.0);
        }
        if let Some(done) = step.done {
            let done = done.get(&HOUR).clamp(0.0, middle);
            g.area(Fill::Ink, None, Rect::new(x(0.0), top + plan.bar - 1.0, x(done), top + plan.bar).to_path(0.1));
        }
        whisker(g, (x(low), x(high)), level);
        let drop = Type::Body.size() * text::CAPITAL / 2.0;
        if above {
            g.words(Type::Figure, Anchor::Start, (x(0.0) + 1.2, y + 3.6), step.name.as_str());
            g.words(Type::Figure, Anchor::End, (plan.wide - 3.0, y + 3.6), words.as_str());
        } else {
            let name = text::shortened(Type::Body, &step.name, plan.names - 3.0);
            g.words(Type::Body, Anchor::End, (x(0.0) - 2.0, level + drop), name);
            g.words(Type::Body, Anchor::Start, (x(high.max(middle)) + 2.0, level + drop), words.as_str());
        }
    });
}

/// A range: a line between two short ends.
fn whisker(draw: &mut impl Draw, (from, to): (f64, f64), y: f64) {
    draw.line(Line::Outline, (from, y), (to, y));
    for x in [from, to] {
        draw.line(Line::Outline, (x, y - 1.3), (x, y + 1.3));
    }
}

/// "45 h (38–56)"
fn step_words(step: &Step) -> String {
    let [low, middle, high] = [step.low, step.middle, step.high].map(|q| number(readable(q.get(&HOUR))));
    if low == high { format!("{middle}\u{a0}h") } else { format!("{middle}\u{a0}h ({low}–{high})") }
}

/// Hours as finely as anyone can foretell them: whole ones from ten on, halves from one on, tenths below.
fn readable(hours: f64) -> f64 {
    let parts = match hours {
        h if h >= 9.75 => 1.0,
        h if h >= 0.95 => 2.0,
        _ => 10.0,
    };
    (hours * parts).round() / parts
}

/// A sentence's first letter made a capital.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// The whole in a heading, and what the bars mean.
fn foot(sheet: &mut Sheet, hours: &Hours, steps: &[&Step], plan: Plan, y: f64) {
    let left = if plan.names == 0.0 { 0.0 } else { plan.names };
    let mut y = y;
    if sound(&hours.total) {
        let words = format!("{}: {}", capital(&hours.total.name), step_words(&hours.total));
        y = text::paragraph(sheet, Type::Heading, (left, y), plan.wide - left, &words) + 1.0;
    }
    let mut at = Point::new(left, y);
    for mark in [Key::Own, Key::Others, Key::Done] {
        if steps.iter().any(|s| mark.applies(s)) {
            mark.draw(sheet, at);
            at.x += 9.0 + text::width(Type::Note, mark.words()) + 4.0;
        }
    }
}

/// What a kind of bar means.
#[derive(Clone, Copy)]
enum Key {
    Own,
    Others,
    Done,
}

impl Key {
    fn words(self) -> &'static str {
        match self {
            Key::Own => "your own pace",
            Key::Others => "others' pace",
            Key::Done => "done",
        }
    }
    fn applies(self, step: &Step) -> bool {
        match self {
            Key::Own => step.own,
            Key::Others => !step.own,
            Key::Done => step.done.is_some_and(|d| d.get(&HOUR) > 0.0),
        }
    }
    /// A small bar and its words.
    fn draw(self, sheet: &mut Sheet, at: Point) {
        let bar = |top: f64, bottom: f64| Rect::new(at.x, at.y + top, at.x + 7.0, at.y + bottom).to_path(0.1);
        match self {
            Key::Own => sheet.area(Fill::Cloth, Some(Line::Axis), bar(0.0, 2.8)),
            Key::Others => {
                sheet.area(Fill::Yarn, Some(Line::Axis), bar(0.0, 2.8));
                hatch(sheet, &bar(0.0, 2.8), 1.3, -45.0);
            }
            Key::Done => sheet.area(Fill::Ink, None, bar(1.0, 2.0)),
        }
        sheet.words(Type::Note, Anchor::Start, (at.x + 8.6, at.y + 2.3), self.words());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent::{Seen, walk};

    fn step(name: &str, low: f64, middle: f64, high: f64, own: bool) -> Step {
        let h = |v| Q::new(v, &HOUR);
        Step { name: name.to_string(), middle: h(middle), low: h(low), high: h(high), own, done: None }
    }

    /// Identity: a bar is as long as its hours, on the scale of the longest.
    #[test]
    fn bars_are_as_long_as_their_hours() {
        let steps = vec![step("one", 4.0, 5.0, 6.0, true), step("two", 8.0, 10.0, 20.0, true)];
        let hours = Hours { title: String::new(), steps, total: step("all", 12.0, 15.0, 24.0, false) };
        for sheet in [wide(&hours), narrow(&hours)] {
            let mut widths = Vec::new();
            walk(&sheet.items, &mut |seen| {
                if let Seen::Path { path, fill: Some(Fill::Cloth), .. } = seen
                    && path.bounding_box().height() > 3.0
                {
                    widths.push(path.bounding_box().width());
                }
            });
            assert!((widths[1] - 2.0 * widths[0]).abs() < 1e-6, "{widths:?}");
        }
    }

    #[test]
    fn hours_are_said_no_finer_than_they_are_known() {
        assert_eq!(step_words(&step("spinning", 53.1, 59.4, 74.9, true)), "59\u{a0}h (53–75)");
        assert_eq!(step_words(&step("ginning", 1.67, 4.26, 12.3, true)), "4.5\u{a0}h (1.5–12)");
        assert_eq!(step_words(&step("tying on", 0.31, 0.31, 0.31, true)), "0.3\u{a0}h");
    }

    #[test]
    fn odd_hours_are_no_panic_and_words_stay_on_the_sheet() {
        let steps = vec![
            step("spinning, with a name that is much too long for its place", 40.0, 56.0, 75.0, false),
            step("nothing", 0.0, 0.0, 0.0, true),
            step("odd", f64::NAN, 1.0, 2.0, true),
            step("backwards", 9.0, 5.0, 1.0, true),
        ];
        let total = step("all", 40.0, 56.0, 75.0, false);
        for steps in [steps, Vec::new()] {
            let hours = Hours { title: String::new(), steps, total: total.clone() };
            for sheet in [wide(&hours), narrow(&hours)] {
                assert!(crate::draw::refused::check(&sheet).is_ok());
                let e = extent::of(&sheet.items).expect("drawn");
                assert!(e.x0 >= 0.0 && e.x1 <= sheet.width && e.y1 <= sheet.height, "{e:?}");
            }
        }
    }
}
