//! Walks the text by the table of keys. Never stops at the first fault: all of them are told at once.

use super::keys::TABLE;
use super::syntax::Lines;
use super::value;
use super::{BoughtWish, Files, InkWish, LONGEST, PieceWish, Plan, StockWish, Values, last_name, path, rules, syntax};
use crate::diag::{Diagnostic, MOST, any_error, quote, settle};
use crate::units::Money;
use crate::weave::colour;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Tables of one kind a plan may have.
const MOST_ROWS: usize = 200;

/// Reads a plan: the plan, unless something in it is an error, and everything there is to say about the text, in its order.
/// `files` holds what the plan may name.
pub fn read(text: &str, files: &Files) -> (Option<Plan>, Vec<Diagnostic>) {
    if text.len() > LONGEST {
        let message = format!("the plan has {} bytes: at most {LONGEST} are read", text.len());
        return (None, vec![Diagnostic::error("too-long", message)]);
    }
    let (tree, errors) = DeTable::parse_recoverable(text);
    let lines = Lines::of(text);
    let faults = syntax::plain(&errors, &lines);
    let mut walk = Walk::of(text);
    walk.table("", tree.get_ref());
    let Walk { values, rows, found, context, .. } = walk;
    let mut all = without_echoes(found, &faults, &lines);
    let is_whole = faults.is_empty();
    all.extend(faults);
    let plan = plan(values, &rows, files.clone());
    if is_whole {
        all.extend(rules::check(&plan, &context));
    }
    let all = settle(all);
    let sound = !any_error(&all);
    (sound.then_some(plan), all)
}

/// What was found on lines that a syntax fault already stands on follows from it and is left out.
fn without_echoes(found: Vec<Diagnostic>, faults: &[Diagnostic], lines: &Lines<'_>) -> Vec<Diagnostic> {
    let line = |d: &Diagnostic| d.span.as_ref().map(|span| lines.number(span.start));
    let broken: BTreeSet<usize> = faults.iter().filter_map(line).collect();
    let follows = |d: &Diagnostic| {
        line(d).is_some_and(|n| broken.contains(&n) || (d.code == "unknown-key" && lines.is_astray(n, &broken)))
    };
    found.into_iter().filter(|d| !follows(d)).collect()
}

struct Walk<'a> {
    source: &'a str,
    values: Values,
    rows: BTreeMap<&'static str, Vec<(Values, Range<usize>)>>,
    found: Vec<Diagnostic>,
    context: Context,
}

/// What the rules must know of the text beyond its values.
#[derive(Default)]
pub struct Context {
    /// Keys that stand in the text but could not be read, or were probably meant by an unknown one.
    pub faulty: BTreeSet<String>,
    /// Where each group stands.
    pub groups: BTreeMap<&'static str, Range<usize>>,
}

impl<'a> Walk<'a> {
    fn of(source: &'a str) -> Self {
        Walk {
            source,
            values: Values::default(),
            rows: BTreeMap::new(),
            found: Vec::new(),
            context: Context::default(),
        }
    }
}

impl Walk<'_> {
    /// All keys of a table below `group`, in the order of the text.
    fn table(&mut self, group: &str, table: &DeTable<'_>) {
        let mut keys: Vec<_> = table.iter().collect();
        keys.sort_by_key(|(name, _)| name.span().start);
        for (name, value) in keys {
            if self.found.len() > 2 * MOST {
                return;
            }
            let path = path::joined(group, name.get_ref());
            self.key(&path, group, name.get_ref(), name.span(), value);
        }
    }

    fn key(&mut self, path: &str, group: &str, name: &str, at: Range<usize>, value: &Spanned<DeValue<'_>>) {
        let is_table = matches!(value.get_ref(), DeValue::Table(_));
        let many = TABLE.groups.keys().copied().find(|many| many.strip_suffix("[]") == Some(path));
        if let Some(many) = many {
            self.many(many, value);
        } else if let (true, Some((below, _)), DeValue::Table(table)) =
            (is_table, TABLE.groups.get_key_value(path), value.get_ref())
        {
            self.context.groups.insert(below, at);
            self.table(below, table);
        } else if let Some(at) = TABLE.at(path) {
            match value::read(&TABLE.keys[at], value, self.source) {
                Ok(entry) => drop(self.values.0.insert(at, entry)),
                Err(fault) => {
                    self.context.faulty.insert(path.to_string());
                    self.found.push(*fault);
                }
            }
        } else if TABLE.groups.contains_key(path) {
            self.context.faulty.insert(path.to_string());
            self.found.push(self.not_a_group(path, value));
        } else {
            let found = path::unknown(group, name, at);
            self.context.faulty.extend(found.near.iter().map(|near| path::joined(group, near)));
            self.found.push(found);
        }
    }

    fn not_a_group(&self, path: &str, value: &Spanned<DeValue<'_>>) -> Diagnostic {
        let given = quote(self.source.get(value.span()).unwrap_or("").trim());
        let message = format!("`{path}` is a group of keys, not `{given}`");
        let first = TABLE.keys.iter().find(|key| key.path.starts_with(&format!("{path}.")));
        let example = first.map(|key| format!("{} = {{ {} = {} }}", last_name(path), last_name(key.path), key.example));
        Diagnostic::error("wrong-type", message)
            .at(Some(value.span()))
            .given(given)
            .accepts(TABLE.names_in(path).join(", "))
            .help(format!("for example: {}", example.unwrap_or_default()))
    }

    /// Tables of one kind, `[[garment.piece]]`.
    fn many(&mut self, group: &'static str, value: &Spanned<DeValue<'_>>) {
        let name = group.trim_end_matches("[]");
        let all: &[Spanned<DeValue<'_>>] = match value.get_ref() {
            DeValue::Array(all) => all,
            _ => &[],
        };
        let are_tables = !all.is_empty() && all.iter().all(|one| matches!(one.get_ref(), DeValue::Table(_)));
        if !are_tables {
            let message = format!("`{name}` is a table that may stand many times");
            let found = Diagnostic::error("wrong-type", message).at(Some(value.span()));
            self.found.push(found.help(format!("write `[[{name}]]` above the keys of each")));
            return;
        }
        if all.len() > MOST_ROWS {
            let message = format!("{} tables `{name}`: at most {MOST_ROWS}", all.len());
            self.found.push(Diagnostic::error("too-many", message).at(Some(all[MOST_ROWS].span())));
        }
        for one in all.iter().take(MOST_ROWS) {
            if let DeValue::Table(table) = one.get_ref() {
                let outer = std::mem::take(&mut self.values);
                self.table(group, table);
                let row = std::mem::replace(&mut self.values, outer);
                self.rows.entry(group).or_default().push((row, one.span()));
            }
        }
    }
}

/// Puts the values and rows together.
fn plan(values: Values, rows: &BTreeMap<&'static str, Vec<(Values, Range<usize>)>>, files: Files) -> Plan {
    let of = |group: &str| rows.get(group).map_or(&[][..], Vec::as_slice);
    let pieces = of("garment.piece[]").iter().enumerate().map(|(i, (row, span))| piece(i, row, span.clone())).collect();
    let stock = of("loom.stock[]").iter().map(|(row, span)| stock(row, span.clone())).collect();
    let inks = of("print.ink[]").iter().map(|(row, span)| ink(row, span.clone())).collect();
    let bought = [("loom", "loom.bought[]"), ("spinner", "spinner.bought[]")];
    let bought = bought.into_iter().flat_map(|(machine, group)| {
        of(group).iter().map(move |(row, span)| BoughtWish {
            machine,
            mark: row.text(&format!("{group}.mark")).map(String::from),
            price: row.quantity::<Money>(&format!("{group}.price")).map(|price| price.middle.to_si()),
            span: span.clone(),
        })
    });
    let bought = bought.collect();
    Plan { values, pieces, stock, bought, inks, files }
}

fn piece(at: usize, row: &Values, span: Range<usize>) -> PieceWish {
    PieceWish {
        name: row.text("garment.piece[].name").map_or_else(|| format!("piece {}", at + 1), String::from),
        width: row.quantity("garment.piece[].width"),
        length: row.quantity("garment.piece[].length"),
        how_many: row.whole("garment.piece[].how_many").unwrap_or(1),
        pairs: row.flag("garment.piece[].pairs").unwrap_or(false),
        outline: row.text("garment.piece[].outline").map(String::from),
        allowance: row.quantity("garment.piece[].allowance"),
        span,
    }
}

fn stock(row: &Values, span: Range<usize>) -> StockWish {
    StockWish {
        name: row.text("loom.stock[].name").map(String::from),
        section: row.choice("loom.stock[].section").unwrap_or("board"),
        width: row.quantity("loom.stock[].width"),
        thickness: row.quantity("loom.stock[].thickness"),
        length: row.quantity("loom.stock[].length"),
        how_many: row.whole("loom.stock[].how_many"),
        price: row.quantity::<Money>("loom.stock[].price").map(|price| price.middle.to_si()),
        span,
    }
}

fn ink(row: &Values, span: Range<usize>) -> InkWish {
    let colour = row.text("print.ink[].colour").and_then(colour::rgb_of);
    InkWish {
        name: row.text("print.ink[].name").map(String::from),
        colour: colour.unwrap_or([0, 0, 0]),
        opaque: row.flag("print.ink[].opaque").unwrap_or(false),
        span,
    }
}
