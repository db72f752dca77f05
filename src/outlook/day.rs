//! Days as the log counts them, since the start of 1970, and as a person writes them. Knows no clock.

use jiff::civil::{Date, date};
use jiff::{Span, Unit};

/// `2031-04-02`.
pub fn text(day: i64) -> String {
    let start = date(1970, 1, 1);
    Span::new().try_days(day).ok().and_then(|span| start.checked_add(span).ok()).unwrap_or(Date::MAX).to_string()
}

/// The day of `2031-04-02`.
pub fn read(text: &str) -> Option<i64> {
    let day: Date = text.trim().parse().ok()?;
    day.since((Unit::Day, date(1970, 1, 1))).ok().map(|span| i64::from(span.get_days()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        for (day, words) in [(0, "1970-01-01"), (22_371, "2031-04-02"), (-1, "1969-12-31")] {
            assert_eq!((text(day).as_str(), read(words)), (words, Some(day)));
        }
        assert_eq!(text(i64::MAX), "9999-12-31");
        assert!(read("soon").is_none());
    }
}
