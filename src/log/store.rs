//! Writing and reading entries. What an entry says now follows from all rows about it: the last correction that stands, unless
//! the entry was withdrawn.

use super::draft::{Draft, Figure, Figures};
use super::moment::Moment;
use super::open::Log;
use super::trouble::{Fault, Result, Trouble};
use rusqlite::{OptionalExtension, Transaction, TransactionBehavior, params};
use std::collections::BTreeMap;

/// What a row does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    Add,
    Fix,
    Undo,
}

impl Act {
    pub(super) fn name(self) -> &'static str {
        match self {
            Act::Add => "add",
            Act::Fix => "fix",
            Act::Undo => "undo",
        }
    }
    pub(super) fn named(name: &str) -> Option<Self> {
        [Act::Add, Act::Fix, Act::Undo].into_iter().find(|a| a.name() == name)
    }
}

/// A row of the log, as it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub id: i64,
    pub act: Act,
    pub kind: String,
    /// What it corrects or takes back.
    pub target: Option<i64>,
    pub written: Moment,
    pub happened: Moment,
    pub mark: Option<String>,
    /// Field and values, in the order of the kind's fields.
    pub figures: Vec<(String, Vec<Figure>)>,
    /// Whether no undo that stands takes it back.
    pub stands: bool,
}

/// What an entry says now.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The number it was given when it was added; corrections keep it.
    pub id: i64,
    pub kind: String,
    pub written: Moment,
    pub happened: Moment,
    pub figures: Vec<(String, Vec<Figure>)>,
    /// The correction that stands, if any.
    pub corrected_by: Option<i64>,
}

impl Entry {
    /// All values of a field.
    pub fn values(&self, field: &str) -> &[Figure] {
        self.figures.iter().find(|(name, _)| name == field).map_or(&[], |(_, list)| list)
    }
    /// The first value of a field, in SI.
    pub fn si(&self, field: &str) -> Option<f64> {
        self.values(field).first()?.si
    }
    /// The first value of a field, as typed.
    pub fn typed(&self, field: &str) -> Option<&str> {
        self.values(field).first().map(|f| f.typed.as_str())
    }
}

/// A row about to be written.
pub(super) struct Fresh<'a> {
    pub act: Act,
    pub kind: &'a str,
    pub target: Option<i64>,
    pub written: Moment,
    pub happened: Moment,
    pub mark: Option<&'a str>,
    pub figures: &'a Figures,
}

pub(super) fn insert(tx: &Transaction, row: &Fresh) -> Result<i64> {
    tx.prepare_cached("INSERT INTO entries (act, kind, target, written, happened, mark) VALUES (?, ?, ?, ?, ?, ?)")?
        .execute(params![
            row.act.name(),
            row.kind,
            row.target,
            row.written.millis(),
            row.happened.millis(),
            row.mark
        ])?;
    let id = tx.last_insert_rowid();
    let mut one = tx.prepare_cached("INSERT INTO figures (entry, field, nth, si, typed) VALUES (?, ?, ?, ?, ?)")?;
    for (field, list) in row.figures {
        for (nth, figure) in list.iter().enumerate() {
            one.execute(params![id, field, nth as i64, figure.si, figure.typed])?;
        }
    }
    Ok(id)
}

impl Log {
    pub(super) fn begin(&mut self) -> Result<Transaction<'_>> {
        Ok(self.db.transaction_with_behavior(TransactionBehavior::Immediate)?)
    }

    /// Writes an entry and returns its number once it is on the disk. An entry whose mark is already in the log is not written
    /// again; the number it has is returned.
    ///
    /// # Errors
    /// [`Trouble::Entry`] with all its faults, or what kept it from being written; nothing was then written.
    pub fn add(&mut self, draft: &Draft, now: Moment) -> Result<i64> {
        let (kind, figures) = draft.check().map_err(Trouble::Entry)?;
        let mark = draft.mark.as_deref();
        let tx = self.begin()?;
        let had = mark.map(|m| marked(&tx, m)).transpose()?.flatten();
        if let Some((id, its_kind)) = had {
            if its_kind == kind.name {
                return Ok(id);
            }
            return Err(Trouble::Entry(vec![Fault::new(None, format!("its mark belongs to a {its_kind} already"))]));
        }
        let happened = draft.happened.unwrap_or(now);
        let row =
            Fresh { act: Act::Add, kind: kind.name, target: None, written: now, happened, mark, figures: &figures };
        let id = insert(&tx, &row)?;
        tx.commit()?;
        Ok(id)
    }

    /// Corrects an entry: `changes` are fields and their new texts, an empty text takes a field out; all else stays. Returns the
    /// number of the correction.
    ///
    /// # Errors
    /// [`Trouble::NoSuch`] when there is no such entry or it was withdrawn, [`Trouble::Entry`] when it would not be sound.
    pub fn fix(&mut self, id: i64, changes: &[(String, String)], happened: Option<Moment>, now: Moment) -> Result<i64> {
        let tx = self.begin()?;
        let rows = rows(&tx)?;
        let root = root(&rows, id).ok_or(Trouble::NoSuch(id))?;
        let entry = entries(rows).into_iter().find(|e| e.id == root).ok_or(Trouble::NoSuch(id))?;
        let mut draft = Draft::new(&entry.kind);
        for (field, list) in &entry.figures {
            if !changes.iter().any(|(name, _)| name == field) {
                draft.fields.extend(list.iter().map(|f| (field.clone(), f.typed.clone())));
            }
        }
        draft.fields.extend(changes.iter().filter(|(_, text)| !text.trim().is_empty()).cloned());
        let (kind, figures) = draft.check().map_err(Trouble::Entry)?;
        let row = Fresh {
            act: Act::Fix,
            kind: kind.name,
            target: Some(root),
            written: now,
            happened: happened.unwrap_or(entry.happened),
            mark: None,
            figures: &figures,
        };
        let fix = insert(&tx, &row)?;
        tx.commit()?;
        Ok(fix)
    }

    /// Takes back row `id`: an entry, a correction, or another undo; without a number the last entry or correction that stands.
    /// Returns what was taken back.
    ///
    /// # Errors
    /// [`Trouble::NoSuch`] when there is no such row or it no longer stands, [`Trouble::NothingToUndo`].
    pub fn undo(&mut self, id: Option<i64>, now: Moment) -> Result<i64> {
        let tx = self.begin()?;
        let rows = rows(&tx)?;
        let row = match id {
            Some(id) => rows.iter().find(|r| r.id == id && r.stands).ok_or(Trouble::NoSuch(id))?,
            None => rows.iter().rfind(|r| r.stands && r.act != Act::Undo).ok_or(Trouble::NothingToUndo)?,
        };
        let undo = Fresh {
            act: Act::Undo,
            kind: &row.kind,
            target: Some(row.id),
            written: now,
            happened: now,
            mark: None,
            figures: &Vec::new(),
        };
        insert(&tx, &undo)?;
        let target = row.id;
        tx.commit()?;
        Ok(target)
    }

    /// Every entry that stands, corrections applied, in the order they happened.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn list(&self) -> Result<Vec<Entry>> {
        let mut list = entries(rows(&self.db)?);
        list.sort_by_key(|e| (e.happened, e.id));
        Ok(list)
    }

    /// Number of the newest row, 0 for none: it grows with every entry, correction and undo.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn newest(&self) -> Result<i64> {
        Ok(self.db.query_row("SELECT coalesce(max(id), 0) FROM entries", [], |row| row.get(0))?)
    }

    /// Every row as it was written, in the order of writing.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn rows(&self) -> Result<Vec<Row>> {
        rows(&self.db)
    }
}

fn marked(tx: &Transaction, mark: &str) -> Result<Option<(i64, String)>> {
    let row = tx.query_row("SELECT id, kind FROM entries WHERE mark = ?", [mark], |r| Ok((r.get(0)?, r.get(1)?)));
    Ok(row.optional()?)
}

/// All rows with their figures, and which of them stand.
pub(super) fn rows(db: &rusqlite::Connection) -> Result<Vec<Row>> {
    let mut figures = figures(db)?;
    let mut query =
        db.prepare_cached("SELECT id, act, kind, target, written, happened, mark FROM entries ORDER BY id")?;
    let mut list = Vec::new();
    let mut found = query.query([])?;
    while let Some(r) = found.next()? {
        let id: i64 = r.get(0)?;
        let act: String = r.get(1)?;
        let act = Act::named(&act).ok_or_else(|| Trouble::Damaged(format!("entry {id} has no known act")))?;
        list.push(Row {
            id,
            act,
            kind: r.get(2)?,
            target: r.get(3)?,
            written: Moment::from_millis(r.get(4)?),
            happened: Moment::from_millis(r.get(5)?),
            mark: r.get(6)?,
            figures: figures.remove(&id).unwrap_or_default(),
            stands: true,
        });
    }
    settle(&mut list);
    Ok(list)
}

/// Fields and their values, in the order of the kind's fields.
type Said = Vec<(String, Vec<Figure>)>;

/// Figures of every entry, fields in the order of their kind.
fn figures(db: &rusqlite::Connection) -> Result<BTreeMap<i64, Said>> {
    let mut query = db.prepare_cached("SELECT entry, field, si, typed FROM figures ORDER BY entry, field, nth")?;
    let mut all: BTreeMap<i64, Said> = BTreeMap::new();
    let mut found = query.query([])?;
    while let Some(r) = found.next()? {
        let field: String = r.get(1)?;
        let figure = Figure { si: r.get(2)?, typed: r.get(3)? };
        let list = all.entry(r.get(0)?).or_default();
        match list.last_mut() {
            Some((name, values)) if *name == field => values.push(figure),
            _ => list.push((field, vec![figure])),
        }
    }
    let place = |name: &str| super::kinds::FIELDS.iter().position(|f| f.name == name).unwrap_or(usize::MAX);
    all.values_mut().for_each(|list| list.sort_by_key(|(name, _)| place(name)));
    Ok(all)
}

/// Marks what no standing undo takes back. An undo looks back only, so from the last row to the first all is known in time.
fn settle(rows: &mut [Row]) {
    let place: BTreeMap<i64, usize> = rows.iter().enumerate().map(|(i, r)| (r.id, i)).collect();
    for i in (0..rows.len()).rev() {
        if rows[i].stands
            && rows[i].act == Act::Undo
            && let Some(&at) = rows[i].target.and_then(|t| place.get(&t))
            && at < i
        {
            rows[at].stands = false;
        }
    }
}

/// The entry a row is about.
fn root(rows: &[Row], id: i64) -> Option<i64> {
    let row = rows.iter().find(|r| r.id == id)?;
    match row.act {
        Act::Add => Some(row.id),
        Act::Fix => row.target,
        Act::Undo => None,
    }
}

/// Entries that stand, with the last standing correction applied.
fn entries(rows: Vec<Row>) -> Vec<Entry> {
    let mut list: Vec<Entry> = Vec::new();
    let mut place: BTreeMap<i64, usize> = BTreeMap::new();
    for row in rows.into_iter().filter(|r| r.stands) {
        match (row.act, row.target) {
            (Act::Add, _) => {
                place.insert(row.id, list.len());
                let Row { id, kind, written, happened, figures, .. } = row;
                list.push(Entry { id, kind, written, happened, figures, corrected_by: None });
            }
            (Act::Fix, Some(target)) => {
                if let Some(&at) = place.get(&target) {
                    let entry = &mut list[at];
                    (entry.happened, entry.figures, entry.corrected_by) = (row.happened, row.figures, Some(row.id));
                }
            }
            _ => {}
        }
    }
    list
}
