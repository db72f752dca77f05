//! Changes one key of a plan's text and leaves every other byte as it is: comments, order, alignment.
//!
//! A key that stands is changed in its place. A key that does not is put where a person would put it: into its section, within
//! braces if its group is written so. Nothing is decided or checked against other keys here: read the text again for that.

use super::keys::{Key, TABLE, Takes};
use super::value;
use crate::diag::{Diagnostic, quote};
use crate::units::Kind;
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toml_edit::{DocumentMut, InlineTable, Item, Table, Value};

/// A key that is not what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// `garment.piece[1].width` in tables that stand many times, counted from 0.
    pub path: String,
    /// As it stood in the text, quotes and all; none where it did not stand.
    pub before: Option<String>,
    pub after: Option<String>,
}

/// A changed text, and what is different.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edited {
    pub text: String,
    pub changed: Vec<Change>,
}

type Result<T> = std::result::Result<T, Box<Diagnostic>>;

/// Sets the key at `path` to what a person would type in a field: `72 %`, `auto`, `3`, `true`, `12 mm, 18 mm`.
///
/// # Errors
/// A diagnostic if the text is broken, there is no such key, or the key does not take what was typed.
pub fn set(text: &str, path: &str, typed: &str) -> Result<Edited> {
    let (names, key) = known(path)?;
    let literal = literal(key, typed);
    let shown = literal.to_string();
    accepted(key, shown.trim())?;
    let tree = parsed(text)?;
    let out = match find(tree.get_ref(), &names, text) {
        Some(found) if found.is_group() && !is_braced(found.value, text) => {
            let message = format!("`{path}` stands as a group of keys: take those out first");
            return Err(Box::new(Diagnostic::error("wrong-type", message)));
        }
        Some(found) => replaced(text, found.value.span(), shown.trim()),
        None => inserted(text, &names, literal)?,
    };
    edited(text, out)
}

/// Takes the key at `path` out. What stands in a comment on its line stays, on a line of its own.
///
/// # Errors
/// A diagnostic if the text is broken or there is no such key in the table; a key that does not stand is no error.
pub fn remove(text: &str, path: &str) -> Result<Edited> {
    let (names, _) = known(path)?;
    let tree = parsed(text)?;
    let out = cut(text, tree.get_ref(), &names);
    edited(text, out)
}

/// Several changes, one after the other; `None` removes.
///
/// # Errors
/// The first diagnostic; nothing is changed then.
pub fn all(text: &str, changes: &[(&str, Option<&str>)]) -> Result<Edited> {
    let mut now = text.to_string();
    for (path, typed) in changes {
        let step = match typed {
            Some(typed) => set(&now, path, typed)?,
            None => remove(&now, path)?,
        };
        now = step.text;
    }
    edited(text, now)
}

/// A name on the way, with its place where the table stands many times.
#[derive(Clone, Debug, PartialEq)]
struct Name {
    name: String,
    at: Option<usize>,
}

/// The names of a path and its row of the table.
fn known(path: &str) -> Result<(Vec<Name>, &'static Key)> {
    let mut names = Vec::new();
    for part in path.split('.') {
        let (name, at) = match part.strip_suffix(']').and_then(|part| part.split_once('[')) {
            Some((name, at)) => (name, at.parse::<usize>().ok()),
            None => (part, None),
        };
        names.push(Name { name: name.to_string(), at });
    }
    let row: Vec<String> = names.iter().map(|n| n.name.clone() + if n.at.is_some() { "[]" } else { "" }).collect();
    let key = TABLE.key(&row.join("."));
    key.map(|key| (names, key)).ok_or_else(|| {
        Box::new(Diagnostic::error("unknown-key", format!("the plan has no key `{}`", quote(path))).given(quote(path)))
    })
}

/// The value to write for what was typed.
pub(super) fn literal(key: &Key, typed: &str) -> Value {
    let trimmed = typed.trim();
    let bare = match &key.takes {
        Takes::Whole { .. } => trimmed.parse::<i64>().ok().map(Value::from),
        Takes::Flag => trimmed.parse::<bool>().ok().map(Value::from),
        Takes::Quantity { spans, .. } if spans.iter().all(|span| matches!(span.kind, Kind::Number | Kind::Money)) => {
            let whole = trimmed.parse::<i64>().ok().map(Value::from);
            whole.or_else(|| trimmed.parse::<f64>().ok().filter(|n| n.is_finite()).map(Value::from))
        }
        Takes::Quantities { .. } => {
            let inner = trimmed.trim_start_matches('[').trim_end_matches(']');
            let parts = inner.split(',').map(|part| part.trim().trim_matches('"')).filter(|part| !part.is_empty());
            Some(Value::Array(parts.collect()))
        }
        _ => None,
    };
    bare.unwrap_or_else(|| Value::from(trimmed))
}

/// Whether the key takes it.
pub(super) fn accepted(key: &Key, literal: &str) -> Result<()> {
    let (value, faults) = DeValue::parse_recoverable(literal);
    let broken = || Box::new(Diagnostic::error("wrong-type", format!("`{}` cannot be written", quote(literal))));
    if !faults.is_empty() {
        return Err(broken());
    }
    // The place is in a text the person does not see.
    value::read(key, &value, literal).map(drop).map_err(|fault| Box::new(Diagnostic { span: None, ..*fault }))
}

fn parsed(text: &str) -> Result<Spanned<DeTable<'_>>> {
    let (tree, errors) = DeTable::parse_recoverable(text);
    match super::syntax::plain(&errors, &super::syntax::Lines::of(text)).into_iter().next() {
        None => Ok(tree),
        Some(fault) => Err(Box::new(fault.help("mend this by hand first: nothing was changed"))),
    }
}

/// A value that stands in the text.
struct Found<'t, 'i> {
    key: Range<usize>,
    value: &'t Spanned<DeValue<'i>>,
    /// Within braces.
    inline: bool,
}

impl Found<'_, '_> {
    fn is_group(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::Table(_))
    }
}

/// Whether a group is written in braces.
fn is_braced(value: &Spanned<DeValue<'_>>, text: &str) -> bool {
    text[value.span().start..].starts_with('{')
}

fn find<'t, 'i>(tree: &'t DeTable<'i>, names: &[Name], text: &str) -> Option<Found<'t, 'i>> {
    let (mut table, mut inline) = (tree, false);
    let (last, way) = names.split_last()?;
    for name in way {
        let (_, value) = table.get_key_value(name.name.as_str())?;
        let value = match (value.get_ref(), name.at) {
            (DeValue::Array(all), Some(at)) => all.get(at)?,
            _ => value,
        };
        inline = inline || is_braced(value, text);
        table = value.get_ref().as_table()?;
    }
    let (key, value) = table.get_key_value(last.name.as_str())?;
    Some(Found { key: key.span(), value, inline })
}

fn replaced(text: &str, span: Range<usize>, literal: &str) -> String {
    format!("{}{literal}{}", &text[..span.start], &text[span.end..])
}

/// The text without a key, its group too if that is in braces and holds nothing else.
fn cut(text: &str, tree: &DeTable<'_>, names: &[Name]) -> String {
    let Some(found) = find(tree, names, text) else { return text.to_string() };
    if found.inline {
        let group = &names[..names.len() - 1];
        let alone =
            find(tree, group, text).and_then(|g| g.value.get_ref().as_table()).is_some_and(|table| table.len() == 1);
        return if alone {
            cut(text, tree, group)
        } else {
            cut_within_braces(text, found.key.start, found.value.span().end)
        };
    }
    cut_lines(text, found.key.start, found.value.span().end)
}

/// A key in braces goes with one of the commas beside it.
fn cut_within_braces(text: &str, start: usize, end: usize) -> String {
    let (before, after) = (&text[..start], &text[end..]);
    let next = after.trim_start();
    if let Some(rest) = next.strip_prefix(',') {
        return format!("{before}{}", rest.trim_start_matches([' ', '\t']));
    }
    match before.trim_end().strip_suffix(',') {
        Some(kept) => format!("{kept}{after}"),
        None => format!("{before}{after}"),
    }
}

/// Whole lines go, but for a comment behind the value.
fn cut_lines(text: &str, start: usize, end: usize) -> String {
    let line = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let rest = &text[end..];
    let length = rest.find('\n').map_or(rest.len(), |at| at + 1);
    let behind = rest[..length].trim_start_matches([' ', '\t']);
    let kept = if behind.starts_with('#') { behind } else { "" };
    format!("{}{kept}{}", &text[..line], &rest[length..])
}

/// A key that does not stand yet.
fn inserted(text: &str, names: &[Name], literal: Value) -> Result<String> {
    let mut document: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| {
        Box::new(Diagnostic::error("syntax", quote(error.message())).at(error.span()))
    })?;
    let Some((last, way)) = names.split_last() else { return Ok(text.to_string()) };
    let mut place = Place::Open(document.as_table_mut());
    for (depth, name) in way.iter().enumerate() {
        let own_section = depth == 0 || (name.name == "warp" || name.name == "weft");
        if name.at.is_none() {
            place.make(&name.name, own_section, depth + 1 < way.len() && name.name == "yarn");
        }
        place = place.down(name).ok_or_else(|| {
            Box::new(Diagnostic::error("missing-table", format!("there is no such table `{}`", quote(&name.name))))
        })?;
    }
    place.put(&last.name, literal);
    let out = document.to_string();
    // toml_edit writes plain line ends.
    let carriage = text.contains("\r\n") && !text.replace("\r\n", "").contains('\n');
    Ok(if carriage { out.replace("\r\n", "\n").replace('\n', "\r\n") } else { out })
}

/// A group of keys in either way of writing it.
enum Place<'d> {
    /// Below a header, or the plan itself.
    Open(&'d mut Table),
    Braces(&'d mut InlineTable),
}

impl<'d> Place<'d> {
    /// Makes a group if it is not there; a value in its place gives way, but not the comment behind it.
    fn make(&mut self, name: &str, own_section: bool, implicit: bool) {
        let table = match self {
            Place::Open(table) => table,
            Place::Braces(table) => {
                if table.get(name).is_none_or(|value| !value.is_inline_table()) {
                    table.remove(name);
                    put_in_braces(table, name, Value::InlineTable(InlineTable::new()));
                }
                return;
            }
        };
        match table.get_mut(name) {
            Some(found) if found.is_table_like() => {}
            Some(Item::Value(value)) => {
                let decor = value.decor().clone();
                *value = Value::InlineTable(InlineTable::new());
                *value.decor_mut() = decor;
            }
            _ if own_section => {
                let mut made = Table::new();
                made.set_implicit(implicit);
                made.decor_mut().set_prefix("\n");
                table.insert(name, Item::Table(made));
            }
            _ => drop(table.insert(name, Item::Value(Value::InlineTable(InlineTable::new())))),
        }
    }

    fn down(self, name: &Name) -> Option<Place<'d>> {
        let item = match self {
            Place::Open(table) => table.get_mut(&name.name)?,
            Place::Braces(table) => match (table.get_mut(&name.name)?, name.at) {
                (Value::InlineTable(below), None) => return Some(Place::Braces(below)),
                (Value::Array(all), Some(at)) => return all.get_mut(at)?.as_inline_table_mut().map(Place::Braces),
                _ => return None,
            },
        };
        match (item, name.at) {
            (Item::Table(table), None) => Some(Place::Open(table)),
            (Item::Value(Value::InlineTable(table)), None) => Some(Place::Braces(table)),
            (Item::ArrayOfTables(all), Some(at)) => all.get_mut(at).map(Place::Open),
            (Item::Value(Value::Array(all)), Some(at)) => all.get_mut(at)?.as_inline_table_mut().map(Place::Braces),
            _ => None,
        }
    }

    fn put(&mut self, name: &str, value: Value) {
        match self {
            Place::Open(table) => drop(table.insert(name, Item::Value(value))),
            Place::Braces(table) => put_in_braces(table, name, value),
        }
    }
}

/// Puts a value within braces; the blank before the closing one stays there.
fn put_in_braces(table: &mut InlineTable, name: &str, mut value: Value) {
    let last = table.iter().last().map(|(key, _)| key.to_string());
    let behind = last.and_then(|last| table.get_mut(&last)).map(|last| {
        let suffix = last.decor().suffix().and_then(|s| s.as_str()).unwrap_or("").to_string();
        last.decor_mut().set_suffix("");
        suffix
    });
    value.decor_mut().set_prefix(" ");
    value.decor_mut().set_suffix(behind.unwrap_or_else(|| String::from(" ")));
    table.insert(name, value);
    if let Some(mut key) = table.key_mut(name) {
        key.leaf_decor_mut().set_prefix(" ");
        key.leaf_decor_mut().set_suffix(" ");
    }
}

/// The outcome with what differs.
fn edited(before: &str, after: String) -> Result<Edited> {
    let old = flat(parsed(before)?.get_ref(), before);
    let new = flat(parsed(&after)?.get_ref(), &after);
    let paths: std::collections::BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let changed = paths.into_iter().filter(|path| old.get(*path) != new.get(*path));
    let changed = changed
        .map(|path| Change { path: path.clone(), before: old.get(path).cloned(), after: new.get(path).cloned() })
        .collect();
    Ok(Edited { text: after, changed })
}

/// Every value by its path, as it stands.
fn flat(table: &DeTable<'_>, text: &str) -> BTreeMap<String, String> {
    let mut out = BTreeMap::new();
    walk("", table, text, &mut out);
    out
}

fn walk(above: &str, table: &DeTable<'_>, text: &str, out: &mut BTreeMap<String, String>) {
    for (name, value) in table {
        let path = super::path::joined(above, name.get_ref());
        match value.get_ref() {
            DeValue::Table(below) => walk(&path, below, text, out),
            DeValue::Array(all) if !all.is_empty() && all.iter().all(|one| one.get_ref().is_table()) => {
                for (at, one) in all.iter().enumerate() {
                    if let DeValue::Table(below) = one.get_ref() {
                        walk(&format!("{path}[{at}]"), below, text, out);
                    }
                }
            }
            _ => {
                out.insert(path, text.get(value.span()).unwrap_or("").to_string());
            }
        }
    }
}
