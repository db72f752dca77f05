//! One axis of a chart: its ends, and stops at 1, 2 or 5 times a power of ten, as close as their words allow.

/// One axis: its name with unit, its ends, its stops.
#[derive(Clone, Debug)]
pub struct Axis {
    pub(super) name: String,
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
    pub(super) fn settle(&mut self, length: f64, least: f64, room: impl Fn(&str) -> f64) -> Vec<(f64, String)> {
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
    pub(super) fn share(&self, value: f64) -> f64 {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::Type;
    use crate::draw::text;

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
}
