//! The log as CSV and back. One row a row of the log, one column a field, texts as typed; RFC 4180 quoting. What is written can be
//! read back into an empty log and gives the same text again; reading it twice adds nothing twice. A sheet of one's own needs
//! only the columns `kind`, `happened` and the fields it fills.

use super::draft::{Draft, Figure, Figures};
use super::kinds::FIELDS;
use super::moment::Moment;
use super::open::Log;
use super::store::{Act, Fresh, Row, insert, rows};
use super::trouble::{Fault, Result, Trouble};
use std::collections::BTreeMap;

/// Columns before the fields.
const HEAD: [&str; 7] = ["id", "act", "target", "written", "happened", "kind", "mark"];
/// Greatest text taken, in bytes; most rows; most faults told.
const GREATEST: usize = 20 << 20;
const MOST_ROWS: usize = 100_000;
const MOST_FAULTS: usize = 50;

/// What an import did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Imported {
    pub added: usize,
    /// Rows that were in the log already.
    pub known: usize,
}

impl Log {
    /// The whole log, every row as it was written.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn export_csv(&self) -> Result<String> {
        let list = rows(&self.db)?;
        let used: Vec<&str> = FIELDS
            .iter()
            .map(|f| f.name)
            .filter(|name| list.iter().any(|r| r.figures.iter().any(|(n, _)| n == name)))
            .collect();
        let mut text = String::new();
        line(&mut text, HEAD.iter().chain(&used).map(|name| (*name).to_string()));
        for row in &list {
            let id = |n: i64| n.to_string();
            let head = [
                id(row.id),
                row.act.name().to_string(),
                row.target.map(id).unwrap_or_default(),
                row.written.to_string(),
                row.happened.to_string(),
                row.kind.clone(),
                row.mark.clone().unwrap_or_default(),
            ];
            let cell = |name: &&str| {
                let figures = row.figures.iter().find(|(n, _)| n == name).map(|(_, list)| list.as_slice());
                let typed: Vec<&str> = figures.unwrap_or_default().iter().map(|f| f.typed.as_str()).collect();
                typed.join("; ")
            };
            line(&mut text, head.into_iter().chain(used.iter().map(cell)));
        }
        Ok(text)
    }

    /// Adds the rows of a CSV text: all of them, or none if one is not sound.
    ///
    /// # Errors
    /// [`Trouble::Entry`] with the line of every fault, or what kept it from being written.
    pub fn import_csv(&mut self, text: &str, now: Moment) -> Result<Imported> {
        let records = read(text).map_err(|fault| Trouble::Entry(vec![fault]))?;
        let sheet = sheet(records)?;
        let tx = self.begin()?;
        let mut known = Known::new(rows(&tx)?);
        let mut ids: BTreeMap<i64, i64> = BTreeMap::new();
        let mut done = Imported::default();
        let mut faults = Vec::new();
        for line in &sheet {
            let target = line.target.map(|t| ids.get(&t).copied().ok_or(t)).transpose();
            let id = match target {
                Err(t) => Err(Fault::new(Some("target"), format!("no row above has the number {t}"))),
                Ok(target) => match known.take(line, target) {
                    Some(id) => {
                        done.known += 1;
                        Ok(id)
                    }
                    None => {
                        done.added += 1;
                        write(&tx, line, target, now)?
                    }
                },
            };
            match (id, line.id) {
                (Ok(id), Some(theirs)) => drop(ids.insert(theirs, id)),
                (Ok(_), None) => {}
                (Err(fault), _) => faults.push(Fault { line: Some(line.line), ..fault }),
            }
        }
        if !faults.is_empty() {
            faults.truncate(MOST_FAULTS);
            return Err(Trouble::Entry(faults));
        }
        tx.commit()?;
        Ok(done)
    }
}

/// A sound row of the sheet.
struct Line {
    line: usize,
    id: Option<i64>,
    act: Act,
    target: Option<i64>,
    written: Option<Moment>,
    happened: Option<Moment>,
    kind: String,
    mark: Option<String>,
    figures: Figures,
}

fn write(
    tx: &rusqlite::Transaction,
    line: &Line,
    target: Option<i64>,
    now: Moment,
) -> Result<std::result::Result<i64, Fault>> {
    let written = line.written.unwrap_or(now);
    let row = Fresh {
        act: line.act,
        kind: &line.kind,
        target,
        written,
        happened: line.happened.unwrap_or(written),
        mark: line.mark.as_deref(),
        figures: &line.figures,
    };
    match insert(tx, &row) {
        Ok(id) => Ok(Ok(id)),
        Err(Trouble::Other(error)) if line.mark.is_some() && error.to_string().contains("UNIQUE") => {
            Ok(Err(Fault::new(Some("mark"), "is in the log already, on another entry")))
        }
        Err(other) => Err(other),
    }
}

/// Rows the log had before, by what they say, each to be met once.
struct Known(BTreeMap<String, Vec<(i64, Moment, Moment)>>);

impl Known {
    fn new(rows: Vec<Row>) -> Self {
        let mut map: BTreeMap<String, Vec<(i64, Moment, Moment)>> = BTreeMap::new();
        for row in rows.into_iter().rev() {
            let figures = row.figures.iter().map(|(name, list)| (name.as_str(), list.as_slice()));
            map.entry(says(row.act, &row.kind, row.target, figures)).or_default().push((
                row.id,
                row.written,
                row.happened,
            ));
        }
        Known(map)
    }

    /// The row that says the same at the same time, if one is left. A sheet without times matches on what it says alone only
    /// where it gives the day it happened.
    fn take(&mut self, line: &Line, target: Option<i64>) -> Option<i64> {
        let figures = line.figures.iter().map(|(name, list)| (*name, list.as_slice()));
        let list = self.0.get_mut(&says(line.act, &line.kind, target, figures))?;
        let same = |&(_, written, happened): &(i64, Moment, Moment)| {
            line.written.is_none_or(|w| w == written) && line.happened.or(line.written).is_some_and(|h| h == happened)
        };
        let at = list.iter().rposition(same)?;
        Some(list.remove(at).0)
    }
}

fn says<'a>(
    act: Act,
    kind: &str,
    target: Option<i64>,
    figures: impl Iterator<Item = (&'a str, &'a [Figure])>,
) -> String {
    let mut figures: Vec<_> = figures.collect();
    figures.sort_by_key(|(name, _)| *name);
    let mut text = format!("{}\u{1}{kind}\u{1}{target:?}", act.name());
    for (name, list) in figures {
        text.push('\u{1}');
        text.push_str(name);
        for figure in list {
            text.push('\u{2}');
            text.push_str(&figure.typed);
        }
    }
    text
}

/// The rows as entries; all faults told.
fn sheet(mut records: Vec<Vec<String>>) -> Result<Vec<Line>> {
    if records.is_empty() {
        return Err(Trouble::Entry(vec![Fault::new(None, "the sheet is empty")]));
    }
    let header: Vec<String> =
        records.remove(0).iter().map(|c| c.trim().trim_start_matches('\u{feff}').to_string()).collect();
    let mut faults = headings(&header);
    let mut list = Vec::new();
    if faults.is_empty() {
        for (i, record) in records.into_iter().enumerate() {
            if record.iter().all(|c| c.trim().is_empty()) {
                continue;
            }
            match row(&header, &record, i + 2) {
                Ok(line) => list.push(line),
                Err(found) => faults.extend(found.into_iter().map(|f| Fault { line: Some(i + 2), ..f })),
            }
            if faults.len() >= MOST_FAULTS {
                break;
            }
        }
    }
    faults.truncate(MOST_FAULTS);
    if faults.is_empty() { Ok(list) } else { Err(Trouble::Entry(faults)) }
}

fn headings(header: &[String]) -> Vec<Fault> {
    let names: Vec<&str> = HEAD.iter().copied().chain(FIELDS.iter().map(|f| f.name)).collect();
    let mut faults = Vec::new();
    for (i, name) in header.iter().enumerate() {
        if !names.contains(&name.as_str()) {
            let near = crate::units::near::near(name, names.iter().copied());
            let shown: String = name.chars().take(40).collect();
            faults.push(Fault { line: Some(1), ..Fault::new(None, format!("`{shown}` is not a column")).near(near) });
        } else if header[..i].contains(name) {
            faults.push(Fault { line: Some(1), ..Fault::new(None, format!("`{name}` stands twice")) });
        }
    }
    if !header.iter().any(|n| n == "kind") {
        faults.push(Fault { line: Some(1), ..Fault::new(None, "there is no column `kind`") });
    }
    faults.truncate(MOST_FAULTS);
    faults
}

fn row(header: &[String], record: &[String], line: usize) -> std::result::Result<Line, Vec<Fault>> {
    if record.len() > header.len() {
        return Err(vec![Fault::new(None, format!("{} cells under {} columns", record.len(), header.len()))]);
    }
    let cell = |name: &str| {
        let text = header.iter().position(|h| h == name).and_then(|i| record.get(i)).map(|c| c.trim());
        text.filter(|t| !t.is_empty())
    };
    let mut faults = Vec::new();
    let mut number = |name: &str| {
        cell(name).and_then(|t| {
            let parsed = t.parse::<i64>().ok();
            if parsed.is_none() {
                faults.push(Fault::new(Some(name), "is not a whole number"));
            }
            parsed
        })
    };
    let (id, target) = (number("id"), number("target"));
    let mut time = |name: &str| {
        cell(name).and_then(|t| {
            let read = Moment::read(t);
            if read.is_none() {
                faults
                    .push(Fault::new(Some(name), "is not a date like 2031-04-02 or a time like 2031-04-02T14:30:00Z"));
            }
            read
        })
    };
    let (written, happened) = (time("written"), time("happened"));
    let act = cell("act").map_or(Some(Act::Add), Act::named);
    let kind = cell("kind").unwrap_or_default().to_string();
    let mark = cell("mark").map(str::to_string);
    match act {
        None => faults.push(Fault::new(Some("act"), "is none of add, fix, undo")),
        Some(act) if (act == Act::Add) != target.is_none() => {
            faults.push(Fault::new(Some("target"), "belongs to a fix or an undo, and to nothing else"));
        }
        _ => {}
    }
    let fields = FIELDS.iter().filter_map(|f| Some((f.name.to_string(), cell(f.name)?.to_string()))).collect();
    let draft = Draft { kind: kind.clone(), happened, fields, mark: mark.clone() };
    let figures = if act == Some(Act::Undo) { undone(&draft) } else { draft.check().map(|(_, figures)| figures) };
    match (figures, act) {
        (Ok(figures), Some(act)) if faults.is_empty() => {
            Ok(Line { line, id, act, target, written, happened, kind, mark, figures })
        }
        (figures, _) => {
            faults.extend(figures.err().unwrap_or_default());
            Err(faults)
        }
    }
}

/// An undo says only what it takes back.
fn undone(draft: &Draft) -> std::result::Result<Figures, Vec<Fault>> {
    if !draft.fields.is_empty() {
        return Err(vec![Fault::new(None, "an undo has no fields")]);
    }
    match super::kinds::kind(&draft.kind) {
        Some(_) => Ok(Vec::new()),
        None => Err(vec![Fault::new(None, "the kind of the entry taken back is missing")]),
    }
}

/// Records of a CSV text.
fn read(text: &str) -> std::result::Result<Vec<Vec<String>>, Fault> {
    let fault = |line: usize, message: &str| Fault { line: Some(line), ..Fault::new(None, message) };
    if text.len() > GREATEST {
        return Err(fault(1, "the sheet is larger than 20 MB"));
    }
    let (mut records, mut record, mut cell) = (Vec::new(), Vec::new(), String::new());
    let (mut quoted, mut was_quoted) = (false, false);
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        match c {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if quoted => quoted = false,
            _ if quoted => cell.push(c),
            '"' if cell.trim().is_empty() && !was_quoted => {
                cell.clear();
                (quoted, was_quoted) = (true, true);
            }
            '"' => return Err(fault(records.len() + 1, "a quotation mark stands in the middle of a cell")),
            ',' => {
                record.push(plain(std::mem::take(&mut cell)));
                was_quoted = false;
            }
            '\r' if letters.peek() == Some(&'\n') => {}
            '\n' => {
                record.push(plain(std::mem::take(&mut cell)));
                records.push(std::mem::take(&mut record));
                was_quoted = false;
                if records.len() > MOST_ROWS {
                    return Err(fault(records.len(), "the sheet has more than 100 000 rows"));
                }
            }
            _ => cell.push(c),
        }
    }
    if quoted {
        return Err(fault(records.len() + 1, "a quotation mark is never closed"));
    }
    if !cell.is_empty() || !record.is_empty() {
        record.push(plain(cell));
        records.push(record);
    }
    Ok(records)
}

/// Whether a table program would take the text for a formula. A signed number with a unit is none.
fn looks_like_a_formula(text: &str) -> bool {
    match text.chars().next() {
        Some('=' | '@' | '\t' | '\r') => true,
        Some('+' | '-') => !text[1..].chars().all(|c| c.is_ascii_digit() || ". °CF/%".contains(c)),
        _ => false,
    }
}

/// Takes off the apostrophe that kept a text from being a formula.
fn plain(cell: String) -> String {
    match cell.strip_prefix('\'') {
        Some(rest) if looks_like_a_formula(rest.trim_start_matches('\'')) => rest.to_string(),
        _ => cell,
    }
}

/// One record, with an apostrophe before what a table program would run as a formula.
fn line(text: &mut String, cells: impl Iterator<Item = String>) {
    for (i, cell) in cells.enumerate() {
        if i > 0 {
            text.push(',');
        }
        let guard = if looks_like_a_formula(cell.trim_start_matches('\'')) { "'" } else { "" };
        if cell.contains([',', '"', '\n', '\r']) || cell.trim() != cell {
            text.push('"');
            text.push_str(guard);
            text.push_str(&cell.replace('"', "\"\""));
            text.push('"');
        } else {
            text.push_str(guard);
            text.push_str(&cell);
        }
    }
    text.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_survive_the_round_trip() {
        let cells = [
            "plain",
            "a,b",
            "say \"so\"",
            "two\nlines",
            "=1+1",
            "'=1",
            "''@x",
            "-3 °C",
            "+1 m",
            "-cmd|x",
            "",
            "'quoted'",
            " x ",
        ];
        let mut text = String::new();
        line(&mut text, cells.iter().map(|c| (*c).to_string()));
        assert_eq!(read(&text).unwrap(), [cells.map(str::to_string).to_vec()]);
        assert!(text.contains("'=1+1") && text.contains(",-3 °C,") && text.contains("'-cmd|x"), "{text}");
    }

    #[test]
    fn broken_sheets_are_told_apart() {
        assert!(read("a,\"b").unwrap_err().message.contains("never closed"));
        assert!(read("a,b\"c\n").unwrap_err().message.contains("middle of a cell"));
        assert_eq!(read("a,b\r\nc,d").unwrap().len(), 2);
        assert_eq!(read("").unwrap().len(), 0);
    }
}
