//! Rules of spinner and loom.

use super::Rules;
use crate::diag::Diagnostic;
use crate::units::{Current, Resistance, Voltage};

impl Rules<'_> {
    pub(super) fn spinner(&mut self) {
        if self.any_in("spinner.motor") {
            let why = "three numbers make a motor: rated voltage, speed and current running free; a fourth its winding";
            self.needs("spinner.motor.rated", why);
            self.needs("spinner.motor.no_load", why);
            self.needs("spinner.motor.no_load_current", why);
            if !self.stands("spinner.motor.stall_current") {
                self.needs("spinner.motor.resistance", "measure it with the motor at rest, or give `stall_current`");
            }
            self.needs("spinner.supply.voltage", "what feeds the motor?");
            self.needs("spinner.supply.current", "how much can it give?");
        }
        self.winding();
        if self.plan.choice("spinner.drive") == Some("both") {
            self.needs("spinner.pulleys.bobbin", "one band drives both, and their ratio winds on");
        } else {
            self.idle("spinner.pulleys.bobbin", "one band drives both only with drive = \"both\"");
        }
        self.order("spinner.bobbin.core", "spinner.bobbin.flange", "the flange must stand out over the core");
        let brake = self.plan.choice("spinner.brake.kind").unwrap_or("cord");
        if brake != "cord" {
            for path in ["spinner.brake.wrap", "spinner.brake.spring", "spinner.brake.groove"] {
                self.idle(path, &format!("the brake is a {brake}, not a cord"));
            }
        }
    }

    /// Winding resistance and stall current are one fact at the rated voltage.
    fn winding(&mut self) {
        let resistance = self.plan.quantity::<Resistance>("spinner.motor.resistance");
        let stall = self.plan.quantity::<Current>("spinner.motor.stall_current");
        let rated = self.plan.quantity::<Voltage>("spinner.motor.rated");
        if let (Some(resistance), Some(stall), Some(rated)) = (resistance, stall, rated) {
            let from_winding = rated.middle.to_si() / resistance.middle.to_si();
            let off = stall.middle.to_si() / from_winding;
            if !(0.75..=1.33).contains(&off) {
                let message = format!(
                    "{} held still would take {} through {}, not {}",
                    self.shown("spinner.motor.rated"),
                    crate::units::show::natural(from_winding, crate::units::Kind::Current, self.plan.style()),
                    self.shown("spinner.motor.resistance"),
                    self.shown("spinner.motor.stall_current"),
                );
                let found = self.at("spinner.motor.stall_current", "motor-disagrees", message);
                self.say(found.help("measure again, or keep the one you trust"));
            }
        }
        if let (Some(free), Some(stall)) = (self.middle("spinner.motor.no_load_current"), stall)
            && free >= stall.middle.to_si()
        {
            let found =
                self.at("spinner.motor.no_load_current", "wrong-order", "running free it takes more than held still");
            self.say(found);
        }
    }

    pub(super) fn loom(&mut self) {
        let set = |path: &str| self.reading(path).is_some();
        if set("loom.heddle.sett") && set("loom.heddle.blade") {
            let message = "`sett` is a heddle you have, `blade` one to be built: the pitch cannot be both";
            let found = self.at("loom.heddle.blade", "either-or", message);
            self.say(found.help("keep `sett`, or keep `blade` and let the gap follow from the cloth"));
        }
        let string = self.plan.choice("loom.heddle.style") == Some("string");
        if !string {
            for path in ["loom.heddle.shafts", "loom.reed.dents", "loom.reed.ends_per_dent"] {
                self.idle(path, "only string heddles have it: style = \"string\"");
            }
        } else {
            for path in ["loom.heddle.blade", "loom.heddle.gap", "loom.heddle.heddles", "loom.heddle.segment"] {
                self.idle(path, "string heddles have none");
            }
        }
        match self.plan.choice("loom.beam.section").unwrap_or("round") {
            "tube" => {
                self.needs("loom.beam.wall", "a tube is as stiff as its wall");
                if let (Some(wall), Some(diameter)) = (self.middle("loom.beam.wall"), self.middle("loom.beam.diameter"))
                    && 2.0 * wall >= diameter
                {
                    let found = self.at("loom.beam.wall", "wrong-order", "two walls leave nothing of the tube's bore");
                    self.say(found);
                }
            }
            _ => self.idle("loom.beam.wall", "only a tube has one"),
        }
        self.order("loom.weaving_width", "loom.beam.span", "the warp is as wide as the beam between its bearings");
        let mut found = Vec::new();
        for stock in self.plan.stock() {
            if stock.length.is_none() {
                let message = "this stock has no length";
                found.push(Diagnostic::error("missing-key", message).at(Some(stock.span.clone())));
            }
            if stock.name.is_none() && stock.width.is_none() {
                let message = "this stock has neither a name nor a width";
                found.push(Diagnostic::error("missing-key", message).at(Some(stock.span.clone())));
            }
        }
        self.found.extend(found);
    }

    /// Prices: each of one mark, once, and in a currency.
    pub(super) fn prices(&mut self) {
        let mut found = Vec::new();
        let mut seen: Vec<(&str, &str)> = Vec::new();
        for bought in self.plan.bought() {
            let error = |code, message: String| Diagnostic::error(code, message).at(Some(bought.span.clone()));
            let group = format!("{}.bought", bought.machine);
            match (&bought.mark, bought.price) {
                (Some(mark), Some(_)) if seen.contains(&(bought.machine, mark)) => {
                    found.push(error("either-or", format!("`{mark}` of the {} has two prices", bought.machine)));
                }
                (Some(mark), Some(_)) => seen.push((bought.machine, mark)),
                (None, _) if !self.context.faulty.contains(&format!("{group}[].mark")) => {
                    found.push(error("missing-key", "this price has no mark: what costs it?".into()));
                }
                (Some(mark), None) if !self.context.faulty.contains(&format!("{group}[].price")) => {
                    found.push(error("missing-key", format!("`{mark}` has no price")));
                }
                _ => {}
            }
        }
        self.found.extend(found);
        let boards = self.plan.stock().iter().filter(|s| s.price.is_some()).map(|s| &s.span);
        let first = boards.chain(self.plan.bought().iter().map(|b| &b.span)).next().cloned();
        match first {
            Some(span) if !self.stands("money") => {
                let message = "a price stands here in no currency: the plan does not say what money it is";
                let found = Diagnostic::error("no-currency", message).at(Some(span));
                self.say(found.help("write `money = \"EUR\"`, or whichever it is, near the top of the plan"));
            }
            Some(_) => {}
            None => self.idle("money", "no board and no bought part has a price"),
        }
    }
}
