//! Season of a plan: daily temperatures from its file, summed between sowing and frost. The header says which unit they are in.

use super::inputs::{How, Inputs};
use crate::chain::assumed;
use crate::chain::keys as id;
use crate::diag::Diagnostic;
use crate::formulas::registry::Entry;
use crate::formulas::season::{DD60, DD60_CAPPED};
use crate::plan::Plan;
use crate::units::*;
use jiff::civil::Date;

/// One day's extremes, in °F, the unit the sums are published in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day {
    pub date: Date,
    pub greatest: f64,
    pub least: f64,
}

/// Most days a file may hold: forty years.
const MOST_DAYS: usize = 15_000;

/// Reads a table of days: a header with a date, a greatest and a least column, the unit said in the header (`°C`, `C`, `°F` or `F`).
pub fn days(bytes: &[u8]) -> Result<Vec<Day>, String> {
    let text = std::str::from_utf8(bytes).map_err(|_| "is not UTF-8 text".to_string())?;
    let mut lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    let (_, header) = lines.next().ok_or("is empty")?;
    let columns = Columns::of(header)?;
    let mut days = Vec::new();
    for (at, line) in lines {
        if days.len() == MOST_DAYS {
            return Err(format!("has more than {MOST_DAYS} days"));
        }
        days.push(columns.day(line).map_err(|why| format!("line {}: {why}", at + 1))?);
    }
    days.sort_by_key(|day| day.date);
    if let Some(pair) = days.windows(2).find(|pair| pair[0].date == pair[1].date) {
        return Err(format!("has {} twice", pair[0].date));
    }
    if days.is_empty() { Err("holds a header and no days".into()) } else { Ok(days) }
}

/// Where date, greatest and least stand, and their unit.
struct Columns {
    date: usize,
    greatest: usize,
    least: usize,
    unit: &'static Unit<Temperature>,
}

impl Columns {
    fn of(header: &str) -> Result<Self, String> {
        let names: Vec<String> = header.split([',', ';', '\t']).map(|name| name.trim().to_lowercase()).collect();
        let find = |words: &[&str]| names.iter().position(|name| words.iter().any(|word| name.contains(word)));
        let missing = |what: &str| format!("has no {what} column; its header is `{}`", header.trim());
        let date = find(&["date", "day"]).ok_or_else(|| missing("date"))?;
        let greatest = find(&["max", "high", "greatest"]).ok_or_else(|| missing("greatest (max)"))?;
        let least = find(&["min", "low", "least"]).ok_or_else(|| missing("least (min)"))?;
        let unit = match (said_unit(&names[greatest]), said_unit(&names[least])) {
            (Some('c'), Some('c')) => &DEG_C,
            (Some('f'), Some('f')) => &DEG_F,
            (Some(_), Some(_)) => return Err("gives greatest and least in different units".into()),
            _ => return Err("does not say °C or °F in the header of both temperature columns".into()),
        };
        Ok(Columns { date, greatest, least, unit })
    }

    fn day(&self, line: &str) -> Result<Day, String> {
        let cells: Vec<&str> = line.split([',', ';', '\t']).map(str::trim).collect();
        let cell = |at: usize| cells.get(at).copied().ok_or_else(|| format!("only {} columns", cells.len()));
        let date: Date =
            cell(self.date)?.parse().map_err(|_| format!("`{}` is not a date like 2026-04-20", cells[self.date]))?;
        let degrees = |at: usize| -> Result<f64, String> {
            let text = cell(at)?;
            let value: f64 = text.parse().map_err(|_| format!("`{text}` is not a number"))?;
            let in_f = Q::new(value, self.unit).get(&DEG_F);
            if (-80.0..=140.0).contains(&in_f) {
                Ok(in_f)
            } else {
                Err(format!("{text} {} is no weather", self.unit.name))
            }
        };
        let (greatest, least) = (degrees(self.greatest)?, degrees(self.least)?);
        if greatest < least { Err("the greatest is below the least".into()) } else { Ok(Day { date, greatest, least }) }
    }
}

/// The unit a column's name ends in: `max °C`, `tmax (F)`, `temp_max_c`.
fn said_unit(name: &str) -> Option<char> {
    let last = name.trim_end_matches([')', ']', ' ']).chars().next_back()?;
    let before = name.trim_end_matches([')', ']', ' ']).chars().rev().nth(1);
    let apart = before.is_none_or(|c| !c.is_ascii_alphabetic());
    (apart && (last == 'c' || last == 'f')).then_some(last)
}

/// Heat between two days, the first counted, the last not.
pub fn heat(days: &[Day], capped: bool) -> f64 {
    let by: &dyn Entry = if capped { &DD60_CAPPED } else { &DD60 };
    days.iter().map(|day| by.eval(&[day.greatest, day.least])).sum()
}

/// Days of the season: from sowing to frost, within one year where no frost is stated.
pub fn season(inputs: &mut Inputs, plan: &Plan, found: &mut Vec<Diagnostic>) -> Vec<Day> {
    let Some(name) = plan.text("season.temperatures") else { return Vec::new() };
    let Some(bytes) = plan.file(name) else { return Vec::new() };
    let all = match days(bytes) {
        Ok(days) => days,
        Err(why) => {
            found.push(
                Diagnostic::error("temperatures", format!("{name} {why}"))
                    .at(plan.span("season.temperatures"))
                    .accepts("a table with a header such as `date,max °C,min °C` and one line a day"),
            );
            return Vec::new();
        }
    };
    let start = plan.date("season.start").unwrap_or(all[0].date);
    let end = plan.date("season.frost");
    let inside =
        |day: &&Day| day.date >= start && end.is_none_or(|end| day.date < end) && day.date.year() == start.year();
    let days: Vec<Day> = all.iter().filter(inside).copied().collect();
    if days.is_empty() {
        let words = format!("{name} has no day between {start} and the end of the season");
        found.push(Diagnostic::error("temperatures", words).at(plan.span("season.start")));
        return days;
    }
    let capped = plan.choice("season.sum") == Some("capped");
    inputs.exact(&id::HEAT_UNITS, Q::new(heat(&days, capped), &DD_F), How::Given, Some("season.temperatures"));
    if let Some(number) = first_open_boll(inputs, &days, capped) {
        inputs.exact(&id::FIRST_OPEN_BOLL, Q::new(number as f64, &DAY), How::Decided, None);
    }
    days
}

/// Days until the heat to the first open boll is there, where the season gives it.
fn first_open_boll(inputs: &Inputs, days: &[Day], capped: bool) -> Option<usize> {
    let usual =
        assumed::general().into_iter().find(|row| row.slot == id::HEAT_NEEDED.slot).map(|row| Q::si(row.middle));
    let needed = inputs.given.get(&id::HEAT_NEEDED).or(usual)?.get(&DD_F);
    (1..=days.len()).find(|number| heat(&days[..*number], capped) >= needed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_from_the_header() {
        for header in ["date,max °C,min °C", "Date;Tmax (C);Tmin (C)", "day\ttemp_max_c\ttemp_min_c"] {
            let sep = header.chars().find(|c| [',', ';', '\t'].contains(c)).expect("a separator");
            let text = format!("{header}\n2026-05-01{sep}32.2{sep}21.1\n");
            let days = days(text.as_bytes()).expect(header);
            assert!((heat(&days, false) - 20.0).abs() < 0.1, "{header}: {}", heat(&days, false));
        }
        assert!(days(b"date,max,min\n2026-05-01,90,70\n").is_err());
        assert!(days(b"date,max C,min F\n2026-05-01,30,70\n").is_err());
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        let why =
            days("date,max °C,min °C\n2026-05-01,20,10\n2026-05-02,hot,10\n".as_bytes()).expect_err("not a number");
        assert_eq!(why, "line 3: `hot` is not a number");
        assert!(
            days("date,max °C,min °C\n2026-05-01,10,20\n".as_bytes())
                .expect_err("turned round")
                .contains("below the least")
        );
        assert!(
            days("date,max °C,min °C\n2026-05-01,9,1\n2026-05-01,9,1\n".as_bytes())
                .expect_err("twice")
                .contains("twice")
        );
        assert!(days(b"\xff\xfe").is_err() && days(b"").is_err());
    }
}
