//! Lengths in the words of a sewing sheet, in millimetres and centimetres or in inches by eighths.

/// Says lengths one way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Say {
    pub inches: bool,
}

impl Say {
    /// "15 mm", "29.5 cm" or "5 3/8 in".
    pub fn length(self, mm: f64) -> String {
        if self.inches {
            return eighths(mm / 25.4);
        }
        if mm.abs() < 99.5 {
            return format!("{:.0} mm", mm.round() + 0.0);
        }
        let tenths = (mm / 1.0).round() / 10.0;
        if (tenths - tenths.round()).abs() < 1e-9 { format!("{tenths:.0} cm") } else { format!("{tenths:.1} cm") }
    }
    /// "60 x 72 cm".
    pub fn size(self, width: f64, length: f64) -> String {
        if self.inches {
            return format!("{} x {}", eighths(width / 25.4), eighths(length / 25.4));
        }
        format!("{:.1} x {:.1} cm", width / 10.0, length / 10.0)
    }
}

fn eighths(inches: f64) -> String {
    let all = (inches * 8.0).round() as i64;
    let (whole, part) = (all.abs() / 8, all.abs() % 8);
    let sign = if all < 0 { "-" } else { "" };
    let fraction = match part {
        0 => return format!("{sign}{whole} in"),
        4 => "1/2".to_string(),
        2 | 6 => format!("{}/4", part / 2),
        _ => format!("{part}/8"),
    };
    if whole == 0 { format!("{sign}{fraction} in") } else { format!("{sign}{whole} {fraction} in") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_as_a_person_reads_them() {
        let metric = Say { inches: false };
        assert_eq!(metric.length(15.2), "15 mm");
        assert_eq!(metric.length(-0.2), "0 mm");
        assert_eq!(metric.length(295.0), "29.5 cm");
        assert_eq!(metric.length(560.02), "56 cm");
        assert_eq!(metric.size(590.0, 720.0), "59.0 x 72.0 cm");
        let inch = Say { inches: true };
        assert_eq!(inch.length(15.0), "5/8 in");
        assert_eq!(inch.length(136.5), "5 3/8 in");
        assert_eq!(inch.length(25.4), "1 in");
        assert_eq!(inch.length(241.3), "9 1/2 in");
        assert_eq!(inch.length(6.35), "1/4 in");
    }
}
