//! A moment of time, in whole milliseconds since 1970, and its text forms. Nobody here asks a clock.

use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, tz::TimeZone};

/// A moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(i64);

/// The years a log may speak of: 1 to 9999.
const FIRST: i64 = -62_135_596_800_000;
const LAST: i64 = 253_402_300_799_999;

impl Moment {
    /// From milliseconds since the start of 1970, UTC; the nearer end outside the years 1 to 9999.
    pub fn from_millis(millis: i64) -> Self {
        Moment(millis.clamp(FIRST, LAST))
    }

    /// Milliseconds since the start of 1970, UTC.
    pub fn millis(self) -> i64 {
        self.0
    }

    /// Days since the start of 1970.
    pub fn day(self) -> i64 {
        self.0.div_euclid(86_400_000)
    }

    /// Reads `2031-04-02`, `2031-04-02 14:30`, or a full time stamp with zone or offset. Without a zone it is UTC; a date alone
    /// is its noon.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        if text.len() > 60 {
            return None;
        }
        if let Ok(stamp) = text.parse::<Timestamp>() {
            return Some(Moment::from_millis(stamp.as_millisecond()));
        }
        let civil = match text.parse::<Date>() {
            Ok(date) if text.len() <= 10 => date.at(12, 0, 0, 0),
            _ => text.parse::<DateTime>().ok()?,
        };
        Some(Moment::from_millis(TimeZone::UTC.to_timestamp(civil).ok()?.as_millisecond()))
    }
}

impl std::fmt::Display for Moment {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match Timestamp::from_millisecond(self.0) {
            Ok(stamp) => write!(f, "{stamp}"),
            Err(_) => write!(f, "{} ms", self.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_back() {
        for text in ["2031-04-02T12:00:00Z", "2031-04-02T14:30:05.123Z", "1969-12-31T23:59:59Z"] {
            assert_eq!(Moment::read(text).unwrap().to_string(), text);
        }
        assert_eq!(Moment::read("2031-04-02").unwrap().to_string(), "2031-04-02T12:00:00Z");
        assert_eq!(Moment::read("2031-04-02 14:30").unwrap().to_string(), "2031-04-02T14:30:00Z");
        assert_eq!(Moment::read("2031-04-02T14:30+02:00").unwrap().to_string(), "2031-04-02T12:30:00Z");
        assert_eq!(Moment::from_millis(-1).day(), -1);
        for bad in ["", "yesterday", "2031-13-01", "31.04.2031", &"9".repeat(100)] {
            assert_eq!(Moment::read(bad), None, "{bad}");
        }
    }
}
