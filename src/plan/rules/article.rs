//! Rules of the garment, its pieces and the print.

use super::Rules;
use crate::diag::{Diagnostic, near, quote};

/// Groups and keys that belong to a tee alone.
const TEE_GROUPS: &[&str] = &["garment.body", "garment.ease", "garment.neck", "garment.sleeve"];
const TEE_KEYS: &[&str] = &["garment.cut", "garment.length", "garment.gusset", "garment.facing"];

impl Rules<'_> {
    pub(super) fn article(&mut self) {
        self.needs("garment.kind", "say what is to be made");
        let Some(kind) = self.plan.choice("garment.kind") else { return };
        match kind {
            "tee" => self.tee(),
            _ => self.not_a_tee(kind),
        }
        if matches!(kind, "towel" | "scarf" | "tote" | "apron") {
            let why = format!("{} is planned from its finished size", a(kind));
            self.needs("garment.finished.width", &why);
            self.needs("garment.finished.length", &why);
        }
        if kind != "tote" {
            self.idle("garment.finished.depth", "only a tote has a depth");
            self.idle("garment.lining", "only a tote is lined");
        }
        if kind != "scarf" {
            self.idle("garment.finished.fringe", "only a scarf has a fringe");
        }
        if kind != "apron" {
            self.idle("garment.pocket", "only an apron has one");
        }
        if kind != "tote" && kind != "apron" {
            self.idle("garment.handles.length", "it has no handles");
            self.idle("garment.handles.width", "it has no handles");
        }
    }

    fn tee(&mut self) {
        if let Some(path) = self.first_in("garment.finished") {
            let found = self.at(path, "wrong-article", "a tee is planned from a body, not from a finished size");
            self.say(found.help("give `body = { chest = \"98 cm\" }`, and `length = \"66 cm\"` for nape to hem"));
        }
        let measured = self.stands("garment.body.chest") || self.stands("garment.body.start");
        if !measured && !self.context.faulty.contains("garment.body") {
            let place = ["garment.body", "garment"].iter().find_map(|group| self.context.groups.get(group).cloned());
            let found =
                Diagnostic::error("missing-key", "whom is the tee for? `garment.body` has neither `chest` nor `start`")
                    .at(place);
            self.say(found.help("measure the chest, or start from a usual size: body = { start = \"women p50\" }"));
        }
        let straight = self.plan.choice("garment.cut") == Some("straight");
        if !straight {
            self.idle("garment.gusset", "only a straight cut has gussets");
        }
        let style = self.plan.choice("garment.neck.style");
        if straight && matches!(style, Some("scoop" | "boat")) {
            let found = self.at("garment.neck.style", "wrong-article", "a straight cut has a slit or keyhole neck");
            self.say(found.help("write `style = \"slit\"`, or `cut = \"shaped\"`"));
        }
        self.order("garment.body.neck_base", "garment.body.chest", "the neck is as wide as the chest");
    }

    fn not_a_tee(&mut self, kind: &str) {
        let a_kind = a(kind);
        let why = format!("it belongs to a tee, and this is {a_kind}");
        if let Some(length) = self.plan.typed("garment.length").map(quote) {
            let message = format!("`length` is not used: {a_kind} is as long as `finished` says");
            let mut found = self.at("garment.length", "not-used", message);
            found.severity = crate::diag::Severity::Warning;
            self.say(found.help(format!("write `finished = {{ length = \"{length}\" }}`")));
        }
        for path in TEE_KEYS.iter().filter(|path| **path != "garment.length") {
            self.idle(path, &why);
        }
        for group in TEE_GROUPS {
            if let Some(path) = self.first_in(group) {
                let name = super::last_name(group);
                let mut found = self.at(path, "not-used", format!("`{name}` is not used: {why}"));
                found.severity = crate::diag::Severity::Warning;
                self.say(found);
            }
        }
    }

    pub(super) fn pieces(&mut self) {
        let kind = self.plan.choice("garment.kind");
        let pieces = self.plan.pieces();
        match (kind, pieces.first()) {
            (Some("pieces"), None) if !self.context.faulty.contains("garment.piece") => {
                let place = self.context.groups.get("garment").cloned();
                let found = Diagnostic::error("missing-key", "there is no [[garment.piece]]").at(place);
                self.say(found.help("write one such table for each piece, with name, width, length and how_many"));
            }
            (Some(kind), Some(first)) if kind != "pieces" => {
                let message = format!("[[garment.piece]] goes with kind = \"pieces\", and this is \"{kind}\"");
                self.found.push(Diagnostic::error("wrong-article", message).at(Some(first.span.clone())));
            }
            _ => {}
        }
        let mut found = Vec::new();
        for (i, piece) in pieces.iter().enumerate() {
            let at = Some(piece.span.clone());
            let name = quote(&piece.name);
            if pieces[..i].iter().any(|before| before.name == piece.name) {
                found.push(Diagnostic::error("same-name", format!("two pieces are called `{name}`")).at(at.clone()));
            }
            let sized = piece.width.is_some() && piece.length.is_some();
            let any_size = piece.width.is_some() || piece.length.is_some();
            if piece.outline.is_some() && any_size {
                let message = format!("piece `{name}` has an outline and a size: the outline is true to size already");
                found.push(Diagnostic::error("either-or", message).at(at.clone()).help("keep one of them"));
            }
            if piece.outline.is_none() && !sized {
                let message = format!("piece `{name}` has no size");
                found.push(
                    Diagnostic::error("missing-key", message).at(at).help("give width and length, or an outline"),
                );
            }
        }
        self.found.extend(found);
    }

    pub(super) fn print(&mut self) {
        if self.plan.is_given("print.artwork") {
            self.needs("print.width", "how wide is the picture on the garment?");
        }
        if let (Some(piece), Some("pieces")) = (self.plan.text("print.place.piece"), self.plan.choice("garment.kind")) {
            let names: Vec<&str> = self.plan.pieces().iter().map(|piece| piece.name.as_str()).collect();
            if !names.contains(&piece) {
                let close = near(piece, names.iter().copied()).map(String::from);
                let message = format!("there is no piece `{}` to print on", quote(piece));
                let found =
                    self.at("print.place.piece", "unknown-piece", message).near(close).accepts(names.join(", "));
                self.say(found);
            }
        }
        let method = self.plan.choice("print.method").unwrap_or("screen");
        if method != "screen" {
            for path in ["print.mesh.count", "print.mesh.thread", "print.ruling", "print.angle"] {
                self.idle(path, &format!("a {method} has no mesh"));
            }
        }
        if method != "block" {
            self.idle("print.block", &format!("a {method} is no block"));
        }
        if method != "screen" && self.plan.choice("print.tone").unwrap_or("solid") != "solid" {
            let message = format!("a {method} has no dots: shades cannot be printed with it");
            let found = self.at("print.tone", "either-or", message).help("use a screen, or flat areas only");
            self.say(found);
        }
        if self.plan.choice("print.tone").unwrap_or("solid") == "solid" {
            self.idle("print.ruling", "there are no dots to rule: give `tone = \"dots\"`");
            self.idle("print.angle", "there are no dots to turn: give `tone = \"dots\"`");
        }
        if !self.plan.inks().is_empty() {
            self.idle("print.separate", "the inks are named below");
        }
    }
}

/// The article with its article.
fn a(kind: &str) -> String {
    match kind {
        "apron" => String::from("an apron"),
        "pieces" => String::from("a set of pieces"),
        kind => format!("a {kind}"),
    }
}
