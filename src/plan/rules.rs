//! What keys ask of each other. Each key is sound by itself here; these rules find the two that cannot both be meant, the one that
//! another needs, and the one that nothing will read. What follows from figures is for the checks, later.

mod article;
mod machines;
mod yarn;

use super::keys::TABLE;
use super::read::Context;
use super::{Plan, last_name};
use crate::diag::{Diagnostic, quote};
use crate::units::show;
use crate::units::text::Reading;

/// All rules.
pub fn check(plan: &Plan, context: &Context) -> Vec<Diagnostic> {
    let mut rules = Rules { plan, context, found: Vec::new() };
    rules.yarn();
    rules.fibre();
    rules.cloth();
    rules.article();
    rules.pieces();
    rules.print();
    rules.spinner();
    rules.loom();
    rules.prices();
    rules.season();
    rules.files();
    rules.found
}

struct Rules<'a> {
    plan: &'a Plan,
    context: &'a Context,
    found: Vec<Diagnostic>,
}

impl Rules<'_> {
    /// Stands in the text, readable or not.
    fn stands(&self, path: &str) -> bool {
        self.plan.is_given(path) || self.context.faulty.contains(path)
    }
    /// Whether any key below a group stands.
    fn any_in(&self, group: &str) -> bool {
        let below = format!("{group}.");
        TABLE.keys.iter().any(|key| key.path.starts_with(&below) && !key.path.contains("[]") && self.stands(key.path))
    }
    /// The first path of a group that stands, in the order of the text.
    fn first_in(&self, group: &str) -> Option<&'static str> {
        let below = format!("{group}.");
        let paths =
            TABLE.keys.iter().map(|key| key.path).filter(|path| path.starts_with(&below) && !path.contains("[]"));
        paths
            .filter(|path| self.plan.is_given(path))
            .min_by_key(|path| self.plan.span(path).map_or(0, |span| span.start))
    }
    fn say(&mut self, found: Diagnostic) {
        self.found.push(found);
    }
    /// An error at the value of `path`.
    fn at(&self, path: &str, code: &'static str, message: impl Into<String>) -> Diagnostic {
        let given = self.plan.typed(path).map(quote);
        let mut found = Diagnostic::error(code, message).at(self.plan.span(path));
        found.given = given;
        found
    }
    /// A key that is needed and does not stand, unless a fault already speaks of it.
    fn needs(&mut self, path: &'static str, why: &str) {
        if self.stands(path) || self.context.faulty.iter().any(|faulty| path.starts_with(&format!("{faulty}."))) {
            return;
        }
        let Some(key) = TABLE.key(path) else { return };
        // At the innermost group above it that stands in the text.
        let mut group = path;
        let mut place = None;
        while let (None, Some((above, _))) = (&place, group.rsplit_once('.')) {
            place = self.context.groups.get(above).cloned();
            group = above;
        }
        let found = Diagnostic::error("missing-key", format!("`{path}` is missing: {why}"))
            .at(place)
            .accepts(super::value::words_of(&key.takes))
            .help(format!("for example: {}", as_line(path, key.example)));
        self.say(found);
    }
    /// Two keys that say one thing in two ways.
    fn either(&mut self, keep: &str, drop: &str, why: &str) {
        if self.plan.is_given(keep) && self.plan.is_given(drop) {
            let message = format!("`{}` and `{}` stand together: {why}", last_name(keep), last_name(drop));
            let found = self.at(drop, "either-or", message).help("keep one of them");
            self.say(found);
        }
    }
    /// A key that nothing will read.
    fn idle(&mut self, path: &str, why: &str) {
        if self.plan.is_given(path) {
            let mut found = self.at(path, "not-used", format!("`{}` is not used: {why}", last_name(path)));
            found.severity = crate::diag::Severity::Warning;
            self.say(found);
        }
    }
    fn reading(&self, path: &str) -> Option<&Reading> {
        self.plan.values.reading(path)
    }
    /// The middle in SI.
    fn middle(&self, path: &str) -> Option<f64> {
        self.reading(path).map(|reading| reading.middle)
    }
    /// As the person would write it.
    fn shown(&self, path: &str) -> String {
        self.reading(path).map_or_else(String::new, |r| format!("{} {}", show::number(r.number()), r.unit.name))
    }
    /// `low` must be the smaller; equal is not enough.
    fn order(&mut self, low: &str, high: &str, message: &str) {
        if let (Some(a), Some(b)) = (self.middle(low), self.middle(high))
            && a >= b
        {
            let message = format!("{message}: {} and {}", self.shown(low), self.shown(high));
            let found = self.at(low, "wrong-order", message);
            self.say(found);
        }
    }

    fn season(&mut self) {
        if let (Some(start), Some(frost)) = (self.plan.date("season.start"), self.plan.date("season.frost"))
            && frost <= start
        {
            let message = format!("the frost of {frost} comes before the start, {start}");
            let found = self.at("season.frost", "wrong-order", message);
            self.say(found);
        }
    }

    /// Files that are named must be there.
    fn files(&mut self) {
        let mut named: Vec<(String, Option<std::ops::Range<usize>>)> = Vec::new();
        for key in TABLE
            .keys
            .iter()
            .filter(|key| matches!(key.takes, super::keys::Takes::File { .. }) && !key.path.contains("[]"))
        {
            named.extend(self.plan.text(key.path).map(|name| (name.to_string(), self.plan.span(key.path))));
        }
        for piece in self.plan.pieces() {
            named.extend(piece.outline.clone().map(|name| (name, Some(piece.span.clone()))));
        }
        for (name, span) in named {
            if self.plan.file(&name).is_none() {
                let close = crate::diag::near(&name, self.plan.files.names()).map(String::from);
                let found =
                    Diagnostic::error("missing-file", format!("there is no file `{}` beside the plan", quote(&name)));
                self.say(found.at(span).given(quote(&name)).near(close));
            }
        }
    }
}

/// `[yarn.warp] count = "30 tex"` for a path and an example.
pub fn as_line(path: &str, example: &str) -> String {
    match path.rsplit_once('.') {
        None => format!("{path} = {example}"),
        Some((group, name)) => match group.split_once('.') {
            Some((section, table)) if section != "yarn" => {
                format!("{table} = {{ {name} = {example} }} below [{section}]")
            }
            _ => format!("{name} = {example} below [{group}]"),
        },
    }
}
