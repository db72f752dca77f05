//! The maker of Tern Bay, invented: a world with known truth that writes the history shipped beside the plan. The same seed gives the
//! same file; a test holds that it is the one shipped.

use super::{now, open, place};
use clothwright::log::{Draft, Log, Moment};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::f64::consts::PI;

/// What is true and nobody is told.
pub struct Truth {
    /// tex of the bobbins, washed, in the order they are spun; the fifth is spun in a hurry.
    pub counts: [f64; 6],
    /// Share of the length lost in the wash.
    pub wash: f64,
    /// Picks per centimetre on the loom, and what the beat creeps to from `creeps_at` on.
    pub picks: f64,
    pub crept: f64,
    pub creeps_at: f64,
    /// Weft in a pick, m.
    pub pick: f64,
    /// Cloth to weave on the loom, m.
    pub cloth: f64,
    /// Weft beside the loom at the start, g.
    pub weft: f64,
}

pub const TRUTH: Truth = Truth {
    counts: [58.1, 57.3, 58.8, 58.4, 72.0, 59.0],
    wash: 0.028,
    picks: 12.6,
    crept: 17.0,
    creeps_at: 0.40,
    pick: 0.700,
    cloth: 2.62,
    weft: 150.0,
};

pub struct Maker {
    log: Log,
    chance: Pcg64Mcg,
    /// Hours since the first morning.
    day: i64,
}

impl Maker {
    fn flat(&mut self) -> f64 {
        self.chance.random::<f64>().max(1e-12)
    }
    fn around(&mut self, mean: f64, spread: f64) -> f64 {
        let normal = (-2.0 * self.flat().ln()).sqrt() * (2.0 * PI * self.flat()).cos();
        mean * (1.0 + spread * normal.clamp(-2.2, 2.2))
    }
    fn at(&self, clock: &str) -> Moment {
        let first = Moment::read("2031-01-04").expect("a day").day();
        let day = clothwright::outlook::day::text(first + self.day);
        Moment::read(&format!("{day} {clock}")).expect("a moment")
    }
    fn write(&mut self, clock: &str, kind: &str, fields: &[(&str, String)]) -> i64 {
        let mut draft = Draft::new(kind);
        for (field, text) in fields {
            draft = draft.with(field, text);
        }
        let at = self.at(clock);
        self.log.add(&draft.at(at), at).unwrap_or_else(|why| panic!("{kind}: {why}"))
    }
    fn worked(&mut self, clock: &str, step: &str, minutes: f64, done: Option<(&str, String)>) {
        let mut fields = vec![("step", step.to_string()), ("time", format!("{minutes:.0} min"))];
        fields.extend(done);
        self.write(clock, "minutes", &fields);
    }
    /// A day or two on: some days have no time for it.
    fn later(&mut self) {
        self.day += if self.flat() < 0.55 { 1 } else { 2 };
    }

    fn fibre(&mut self) {
        self.write(
            "09:00",
            "note",
            &[("note", "Tern Bay tee: seed cotton from the 2030 bolls, 1.6 kg in four bags".into())],
        );
        let mut lint = 0.0;
        while lint < 440.0 {
            let before = self.around(137.0, 0.10);
            let after = before * self.around(0.335, 0.02);
            let humidity = self.around(62.0, 0.05);
            self.write(
                "16:10",
                "fibre",
                &[
                    ("stage", "ginning".into()),
                    ("before", format!("{before:.1} g")),
                    ("after", format!("{after:.1} g")),
                    ("humidity", format!("{humidity:.0} %")),
                ],
            );
            let minutes = after / 32.0 * 60.0;
            let minutes = self.around(minutes, 0.08);
            self.worked("16:15", "ginning", minutes, Some(("done_mass", format!("{after:.1} g"))));
            lint += after;
            self.day += 1;
        }
        let mut ready = 0.0;
        while ready < 368.0 {
            let before = self.around(51.0, 0.05);
            let after = before * self.around(0.853, 0.014);
            self.write(
                "15:00",
                "fibre",
                &[
                    ("stage", "carding".into()),
                    ("before", format!("{before:.1} g")),
                    ("after", format!("{after:.1} g")),
                ],
            );
            let minutes = self.around(after / 32.0 * 60.0, 0.08);
            self.worked("15:05", "carding", minutes, Some(("done_mass", format!("{after:.1} g"))));
            ready += after;
            self.day += 1;
        }
    }

    fn loads(&mut self, count: usize, mean: f64) -> String {
        let loads: Vec<String> =
            (0..count).map(|_| format!("{:.0} cN", (self.around(mean, 0.19) / 5.0).round() * 5.0)).collect();
        loads.join("; ")
    }

    fn samples(&mut self) {
        self.write(
            "11:00",
            "knobs",
            &[
                ("bobbin", "1".into()),
                ("twist_set", "520 /m".into()),
                ("brake", "4".into()),
                ("knob", "6".into()),
                ("speed", "1060 rpm".into()),
                ("voltage", "12.1 V".into()),
                ("note", "Z, band over the oncoming side".into()),
            ],
        );
        self.day += 1;
        for at in 0..3 {
            let counted = self.around(31.0, 0.03).round();
            let washed = counted * (1.0 - self.around(TRUTH.wash, 0.3));
            let mass = washed * self.around(TRUTH.counts[0], 0.06) / 1000.0;
            let twist: Vec<String> =
                (0..3).map(|_| format!("{:.0} /m", (self.around(506.0, 0.06) / 10.0).round() * 10.0)).collect();
            let loads = self.loads(7, 540.0);
            self.write(
                &format!("11:{}0", at + 1),
                "skein",
                &[
                    ("bobbin", "1".into()),
                    ("mass", format!("{mass:.2} g")),
                    ("counted", format!("{counted:.0} m")),
                    ("after_washing", format!("{washed:.1} m")),
                    ("wraps", "25 /cm".into()),
                    ("twist_set", "520 /m".into()),
                    ("twist", twist.join("; ")),
                    ("break_load", loads),
                ],
            );
        }
        self.day += 3;
        for (warp, reed, off, washed) in [(1, 18.0, 16.2, 14.9), (2, 40.0, 36.6, 33.6)] {
            self.write(
                "17:00",
                "swatch",
                &[
                    ("warp", warp.to_string()),
                    ("in_reed", format!("{reed:.1} cm")),
                    ("width_on_loom", format!("{:.1} cm", reed * 0.97)),
                    ("width_off_loom", format!("{off:.1} cm")),
                    ("width_washed", format!("{washed:.1} cm")),
                    ("length_on_loom", "25.0 cm".into()),
                    ("length_off_loom", "24.0 cm".into()),
                    ("length_washed", "22.1 cm".into()),
                    ("picks_on_loom", "12.6 /cm".into()),
                    ("picks_off_loom", "13.1 /cm".into()),
                    ("picks_washed", "14.2 /cm".into()),
                    ("warp_thread", "10.72 cm".into()),
                    ("warp_cloth", "10 cm".into()),
                    ("weft_thread", "10.75 cm".into()),
                    ("weft_cloth", "10 cm".into()),
                ],
            );
            self.worked("17:10", "sampling", 190.0, None);
            self.day += 2;
        }
        self.write(
            "17:30",
            "photo",
            &[
                ("warp", "2".into()),
                ("file", "photos/swatch-2.jpg".into()),
                ("note", "off the loom beside a ruler".into()),
            ],
        );
    }

    fn spinning(&mut self) {
        let masses = [56.2, 57.4, 55.1, 58.3, 40.2, 55.0];
        for (at, mass) in masses.into_iter().enumerate() {
            let name = at + 1;
            let hurry = name == 5;
            let mut left = mass / TRUTH.counts[at] * 1000.0;
            while left > 0.0 {
                self.later();
                let minutes = self.around(if hurry { 62.0 } else { 86.0 }, 0.2);
                let pace = self.around(if hurry { 138.0 } else { 93.0 }, 0.1);
                let metres = (minutes / 60.0 * pace).min(left).max(5.0);
                self.worked("19:00", "spinning", metres / pace * 60.0, Some(("done_length", format!("{metres:.0} m"))));
                left -= metres;
            }
            if hurry {
                self.write(
                    "20:00",
                    "knobs",
                    &[
                        ("bobbin", "5".into()),
                        ("brake", "6".into()),
                        ("knob", "8".into()),
                        ("speed", "1400 rpm".into()),
                        ("note", "in a hurry before the weekend".into()),
                    ],
                );
            }
            self.bobbin(name, mass);
        }
    }

    fn bobbin(&mut self, name: usize, mass: f64) {
        let check = self.around(TRUTH.counts[name - 1], 0.006) / 100.0;
        let place = match name {
            4 | 6 => "weft",
            5 => "either",
            _ => "warp",
        };
        let fields = |mass: f64| {
            [
                ("bobbin", name.to_string()),
                ("mass", format!("{mass:.2} g")),
                ("check_length", "10 m".into()),
                ("check_mass", format!("{check:.2} g")),
                ("use", place.into()),
            ]
        };
        match name {
            2 => {
                let slip = self.write("20:30", "bobbin", &fields(mass / 10.0));
                let note = "read the scale wrong: ten times too little".to_string();
                let at = self.at("20:30");
                self.log
                    .fix(slip, &[("mass".into(), format!("{mass:.1} g")), ("note".into(), note)], Some(at), at)
                    .expect("a fix");
            }
            4 => {
                self.write("20:30", "bobbin", &fields(mass));
                let twice = self.write("20:40", "bobbin", &fields(mass));
                let at = self.at("20:41");
                self.log.undo(Some(twice), at).expect("an undo");
            }
            _ => {
                self.write("20:30", "bobbin", &fields(mass));
            }
        }
    }

    fn warping(&mut self) {
        self.day += 1;
        for name in 2..5 {
            let loads = self.loads(6, 540.0);
            self.write(&format!("11:0{name}"), "skein", &[("bobbin", name.to_string()), ("break_load", loads)]);
        }
        self.day += 1;
        self.worked("10:00", "washing", 95.0, None);
        self.day += 1;
        self.worked("10:00", "warping", 310.0, Some(("done_length", "2890 m".into())));
        self.write(
            "16:00",
            "warp",
            &[
                ("warp", "3".into()),
                ("threads", "850".into()),
                ("wound", "3.40 m".into()),
                ("in_reed", "69.7 cm".into()),
                ("note", "bobbins 1, 2, 3".into()),
            ],
        );
        for threads in [215, 210, 215, 210] {
            self.day += 1;
            let minutes = self.around(f64::from(threads) / 112.0 * 60.0, 0.06);
            self.worked("18:00", "threading", minutes, Some(("done_number", threads.to_string())));
        }
        self.day += 2;
        self.write(
            "08:50",
            "weft",
            &[
                ("mass", format!("{:.1} g", TRUTH.weft)),
                ("note", "bobbins 4 and 6, and what the warp left; 5 set aside: too thick".into()),
            ],
        );
        self.write("09:00", "woven", &[("woven", "0 cm".into()), ("weft_left", format!("{:.1} g", TRUTH.weft))]);
    }

    /// The beat at a place on the cloth.
    fn beat(&self, woven: f64, mended: bool) -> f64 {
        let crept = ((woven - TRUTH.creeps_at) / 0.5).clamp(0.0, 1.0);
        if mended { TRUTH.picks } else { TRUTH.picks + (TRUTH.crept - TRUTH.picks) * crept }
    }

    /// Weaves to the end; `choose` is asked after each weighing whether something is done about the weft.
    fn weaving(&mut self, mut choose: impl FnMut(&Log) -> bool) {
        let (mut woven, mut left, mut mended, mut sitting) = (0.0, TRUTH.weft, false, 0);
        while woven < TRUTH.cloth - 1e-9 {
            let advance = (self.around(0.102, 0.06) * 200.0).round() / 200.0;
            let advance = advance.min(TRUTH.cloth - woven);
            let beat = self.beat(woven + 0.5 * advance, mended);
            let used = self.around(advance * 100.0 * beat * TRUTH.pick * 58.7 / 1000.0, 0.025);
            if used > left {
                break;
            }
            woven += advance;
            left -= used;
            let clock = if sitting % 2 == 0 { "09" } else { "11" };
            let minutes = self.around(advance * 100.0 * beat / 3.0, 0.1);
            self.worked(
                &format!("{clock}:20"),
                "weaving",
                minutes,
                Some(("done_length", format!("{:.1} cm", advance * 100.0))),
            );
            let counted = (self.around(beat, 0.012) * 10.0).round() / 10.0;
            let mark = ("woven", format!("{:.1} cm", woven * 100.0));
            self.write(&format!("{clock}:25"), "picks", &[("picks", format!("{counted:.1} /cm")), mark.clone()]);
            self.write(&format!("{clock}:30"), "woven", &[mark.clone(), ("weft_left", format!("{left:.1} g"))]);
            if (woven - 0.62).abs() < 0.05 || (woven - 1.53).abs() < 0.05 {
                self.write(&format!("{clock}:35"), "breaks", &[("ends", "1".into()), mark]);
            }
            if !mended && choose(&self.log) {
                mended = true;
                left += 40.2;
                self.write(
                    &format!("{clock}:40"),
                    "weft",
                    &[
                        ("mass", "40.2 g".into()),
                        ("bobbin", "5".into()),
                        ("note", "warned in time: a stripe of bobbin 5, and beat as planned again".into()),
                    ],
                );
            }
            if sitting % 2 == 1 {
                self.later();
            }
            sitting += 1;
        }
        let over = woven >= TRUTH.cloth - 1e-9;
        self.write(
            "16:00",
            "note",
            &[(
                "note",
                if over {
                    "last pick; the weft reached".into()
                } else {
                    format!("out of weft at {:.0} cm", woven * 100.0)
                },
            )],
        );
    }
}

/// A whole history as CSV. `choose` says after each weighing whether the maker acts.
pub fn history(seed: u64, choose: impl FnMut(&Log) -> bool) -> String {
    let (_folder, path) = place();
    let mut maker = Maker { log: open(&path), chance: Pcg64Mcg::seed_from_u64(seed), day: 0 };
    maker.fibre();
    maker.day += 1;
    maker.samples();
    maker.spinning();
    maker.warping();
    maker.weaving(choose);
    let _ = now();
    maker.log.export_csv().expect("a sheet")
}
