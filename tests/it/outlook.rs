//! The outlook as its users meet it: trials that replay on any number of threads, a search whose designs are what they say, mends that
//! mend, and the log in the JSON and on the command line.
#![expect(clippy::disallowed_methods, reason = "the tests write plans of their own and run the program")]

use crate::scene::{outcome_of, plan_of, root, source, with_history, worked};
use clothwright::chain::decide::decide;
use clothwright::chain::keys as id;
use clothwright::checks::mend::Mend;
use clothwright::outlook::explore::{Design, explore};
use clothwright::outlook::trials::{all_slots, trials};
use clothwright::outlook::{add_pairs, json, matters, next};
use clothwright::plan::edit;
use clothwright::units::*;
use std::path::Path;
use std::process::{Command, Output};

fn on_threads<T: Send>(threads: usize, work: impl Fn() -> T + Send + Sync) -> T {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads").install(work)
}

#[test]
fn trials_and_what_follows_are_the_same_on_any_number_of_threads() {
    let brief = worked("tern-bay-tee.toml", 0).brief;
    let made = |threads| {
        on_threads(threads, || {
            let run = trials(&brief, 7, 20_000, &all_slots());
            let columns: Vec<Vec<u64>> = (0..id::IDS as u16)
                .map(|slot| run.column(slot).expect("kept").iter().map(|value| value.to_bits()).collect())
                .collect();
            let shares = matters::matters(&brief, id::RAW_FIBRE.slot, 7);
            (columns, run.passed, shares, next::next(&brief, id::RAW_FIBRE.slot, 7))
        })
    };
    let (one, three) = (made(1), made(3));
    assert!(one == three);
    let other = trials(&brief, 8, 20_000, &[id::RAW_FIBRE.slot]).column(id::RAW_FIBRE.slot).expect("kept");
    let bits: Vec<u64> = other.iter().map(|value| value.to_bits()).collect();
    assert_ne!(bits, one.0[id::RAW_FIBRE.slot as usize], "another seed gives other trials");
}

/// The ranges of a plan are taken from fewer ids than there are: what is left out must be what no trial moves.
#[test]
fn ids_left_out_of_the_trials_stand_still() {
    for name in
        ["tern-bay-tee.toml", "tern-bay-apron.toml", "tern-bay-scarf.toml", "tern-bay-tote.toml", "tern-bay-towel.toml"]
    {
        let outcome = worked(name, 512);
        let kept = &outcome.run_trials().expect("trials").slots;
        let all = trials(&outcome.brief, 3, 512, &all_slots());
        let left: Vec<u16> = outcome.values().map(|(slot, ..)| slot).filter(|slot| !kept.contains(slot)).collect();
        assert!(left.len() > 30 && kept.len() > 100, "{name}: {} and {}", left.len(), kept.len());
        for slot in left {
            let column = all.column(slot).expect("kept");
            assert!(column.iter().all(|value| *value == column[0]), "{name}: {} moves", id::ALL[slot as usize].name);
            assert_eq!(outcome.spread(slot), None);
        }
        let moved = kept.iter().filter(|slot| outcome.spread(**slot).is_some()).count();
        assert!(moved > 60, "{name}: only {moved} have a range");
    }
}

fn beats(a: &Design, b: &Design) -> bool {
    (a.mass / 10.0).floor() == (b.mass / 10.0).floor() && a.hours < b.hours * 0.99 && a.fibre < b.fibre * 0.99
}

#[test]
fn the_front_is_beaten_by_nothing_that_was_found() {
    let (text, files) = source("tern-bay-tee.toml");
    let open = text.replace("cut = \"shaped\"\n", "");
    let brief = decide(&plan_of(&open, &files)).unwrap_or_else(|found| panic!("{found:?}"));
    let made = |threads| on_threads(threads, || explore(&brief, 30_000));
    let found = made(1);
    assert!(found == made(3), "the same on any number of threads");
    assert!(found.tried >= 20_000 && found.passed >= found.some.len() && !found.front.is_empty());
    for design in &found.front {
        assert!(!found.some.iter().chain(&found.front).any(|other| beats(other, design)), "{design:?}");
    }
    // both cuts, several widths, counts, twists and setts were looked through
    let kinds =
        |key: fn(&Design) -> String| found.some.iter().map(key).collect::<std::collections::BTreeSet<_>>().len();
    assert_eq!(kinds(|d| d.cut.unwrap_or("").to_string()), 2);
    assert!(kinds(|d| format!("{:.0}", d.width)) >= 2 && kinds(|d| format!("{:.1}", d.count)) >= 10);
    assert!(kinds(|d| format!("{:.2}", d.twist)) >= 3 && kinds(|d| format!("{:.2}", d.firmness)) >= 5);
}

fn program(folder: &Path, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .args(words)
        .output()
        .expect("the program")
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// The tee in a folder of its own, with the files it names.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    std::fs::create_dir(folder.path().join("files")).expect("a folder");
    for name in ["tern-bay-tee.toml", "tern-bay-history.csv", "files/tern.svg", "files/tern-bay-garden.csv"] {
        std::fs::copy(root().join("plans").join(name), folder.path().join(name)).expect("a copy");
    }
    folder
}

#[test]
fn a_design_that_is_taken_is_the_plan_then() {
    let folder = folder();
    let here = folder.path();
    let listed = program(
        here,
        &["explore", "tern-bay-tee.toml", "--designs", "20000", "--free", "garment.cut", "--format", "json"],
    );
    let listed: serde_json::Value =
        serde_json::from_slice(&listed.stdout).unwrap_or_else(|_| panic!("{}", said(&listed)));
    let front = listed["front"].as_array().expect("a front");
    let picture = program(here, &["explore", "tern-bay-tee.toml", "--designs", "20000", "-o", "designs.svg"]);
    assert!(said(&picture).contains("designs.svg"), "{}", said(&picture));
    let picture = std::fs::read_to_string(here.join("designs.svg")).expect("a picture");
    assert!(picture.contains("designs looked through") && picture.contains("raw fibre, g"));
    let number = front.len().to_string();
    let taken = program(
        here,
        &["explore", "tern-bay-tee.toml", "--designs", "20000", "--free", "garment.cut", "--take", &number],
    );
    assert!(said(&taken).contains("is written into"), "{}", said(&taken));
    let plan = std::fs::read_to_string(here.join("tern-bay-tee.toml")).expect("the plan");
    assert!(plan.contains("# A printed tee from cotton grown at Tern Bay."), "comments stay");
    let checked = program(here, &["check", "tern-bay-tee.toml"]);
    assert!(checked.status.success(), "{}", said(&checked));
    let out = program(here, &["plan", "tern-bay-tee.toml", "--format", "json", "--trials", "0"]);
    let out: serde_json::Value = serde_json::from_slice(&out.stdout).expect("JSON");
    let (design, value) = (&front[front.len() - 1], |id: &str| out["values"][id]["value"].as_f64().expect("a number"));
    for (name, id) in
        [("hours", "hours.total"), ("fibre", "demand.raw_fibre"), ("mass", "cloth.mass"), ("width", "lay.width")]
    {
        let (said, is) = (design[name].as_f64().expect("a number"), value(id));
        // firmness and count are written with the digits a person types, and the sett snaps to a pitch that can be made
        assert!((is / said - 1.0).abs() < 0.03, "{name}: {said} in the list, {is} in the plan");
    }
    let wrong = program(here, &["explore", "tern-bay-tee.toml", "--free", "garment.cutt"]);
    assert!(said(&wrong).contains("Did you mean `garment.cut`?"), "{}", said(&wrong));
    let wrong = program(here, &["explore", "tern-bay-tee.toml", "-o", "designs.stl"]);
    assert!(said(&wrong).contains("svg, pdf or png") && wrong.status.code() == Some(2), "{}", said(&wrong));
}

/// A plan's text with a mend written into it as a person would type it.
fn mended(text: &str, mend: &Mend) -> String {
    let typed: Vec<(&str, String)> = mend
        .moves
        .iter()
        .map(|m| {
            let unit = id::ALL[m.knob.slot as usize].unit.name;
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            (m.knob.path, format!("{}{unit}", (m.to * 1e6).round() / 1e6))
        })
        .collect();
    let changes: Vec<(&str, Option<&str>)> = typed.iter().map(|(path, text)| (*path, Some(text.as_str()))).collect();
    edit::all(text, &changes).unwrap_or_else(|why| panic!("{}", why.message)).text
}

/// Every single change and every pair that is offered for a failing plan, written into it, mends what it says.
#[test]
fn mends_and_pairs_do_mend_when_they_are_written_into_the_plan() {
    let mut pairs = 0;
    for entry in std::fs::read_dir(root().join("plans/failing")).expect("failing plans") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        let (text, files) = source(&format!("failing/{name}"));
        let mut outcome = outcome_of(&text, &files, 0);
        add_pairs(&mut outcome);
        for verdict in outcome.verdicts.iter().filter(|verdict| verdict.check.is_some()) {
            for mend in &verdict.mends {
                pairs += usize::from(mend.moves.len() == 2);
                let after = outcome_of(&mended(&text, mend), &files, 0);
                let still = after.verdicts.iter().any(|other| other.code == verdict.code);
                assert!(!still, "{name}: {} after {:?}", verdict.code, mend.moves);
                assert!(mend.mends.contains(&verdict.code));
            }
            // a pair that is offered beside single changes is the gentler way, or one that mends more
            let single = verdict.mends.iter().find(|mend| mend.moves.len() == 1);
            let pair = verdict.mends.iter().find(|mend| mend.moves.len() == 2);
            if let (Some(single), Some(pair)) = (single, pair) {
                println!("{name} {}: single {:.3}, pair {:.3}", verdict.code, single.effort(), pair.effort());
            }
        }
    }
    assert!(pairs >= 3, "{pairs} pairs were tried");
}

#[test]
fn the_log_in_the_json_is_what_the_schema_says() {
    let folder = folder();
    let here = folder.path();
    let refused = program(here, &["plan", "tern-bay-tee.toml", "--with-log"]);
    assert!(
        refused.status.code() == Some(2) && said(&refused).contains("nothing was logged yet"),
        "{}",
        said(&refused)
    );
    assert!(
        said(&program(here, &["log", "tern-bay-tee.toml", "import", "tern-bay-history.csv"]))
            .contains("entries are new")
    );
    let out = program(here, &["plan", "tern-bay-tee.toml", "--format", "json", "--with-log"]);
    let out: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap_or_else(|_| panic!("{}", said(&out)));
    for id in
        ["yarn.warp.count", "cloth.shrink_width", "losses.cleaning_keeps", "hours.spinning_pace", "hours.picking_pace"]
    {
        let value = &out["values"][id];
        let number = |name: &str| value[name].as_f64().unwrap_or_else(|| panic!("{id} has no {name}: {value}"));
        assert_eq!(value["how"], "measured", "{id}");
        assert!(number("low") < number("value") && number("value") < number("high"), "{id}: {value}");
    }
    let safe = &out["values"]["demand.raw_fibre"];
    assert!(safe["safe"].as_f64() == safe["high"].as_f64() && safe["how"] == "computed", "{safe}");
    assert!(out["values"]["cloth.shrink_width"]["safe"] == out["values"]["cloth.shrink_width"]["high"]);
    let schema = json::schema();
    for key in schema["properties"]["log"]["required"].as_array().expect("names") {
        assert!(out["log"].get(key.as_str().expect("a name")).is_some(), "{key}");
    }
    let weft =
        out["log"]["forecasts"].as_array().expect("forecasts").iter().find(|f| f["name"] == "weft").expect("weft");
    assert!(weft["chance"].as_f64().expect("a chance") > 0.95 && weft["figure"]["unit"] == "g");
    assert!(out["log"]["clock"]["finish"]["value"].as_str().expect("a day").starts_with("2031-"));
    assert_eq!(out["log"]["evenness"]["aside"], serde_json::json!([5]));
    assert!(!text_of(&out).contains("null"), "what is not known is left out");
}

fn text_of(value: &serde_json::Value) -> String {
    value.to_string()
}

/// A weaver's morning on the command line: each entry is answered with what it brings up.
#[test]
fn entries_are_answered_at_once() {
    let folder = folder();
    let here = folder.path();
    let add = |words: &[&str]| {
        let out = program(here, &[&["log", "tern-bay-tee.toml", "add"], words].concat());
        assert!(out.status.success(), "{words:?}: {}", said(&out));
        said(&out)
    };
    let asked = program(here, &["log", "tern-bay-tee.toml", "add", "warp"]);
    assert!(said(&asked).contains("threads") && said(&asked).contains("needed"), "{}", said(&asked));
    let kinds = program(here, &["log", "tern-bay-tee.toml", "add"]);
    assert!(kinds.status.success() && said(&kinds).contains("weft yarn made ready"), "{}", said(&kinds));
    let short = add(&["warp", "threads=850", "wound=2.9 m", "in_reed=69.7 cm"]);
    assert!(short.contains("Is the warp long enough?") && short.contains("short"), "{short}");
    assert!(short.contains("clothwright log tern-bay-tee.toml ahead"), "{short}");
    let calm = add(&["warp", "threads=850", "wound=3.4 m", "in_reed=69.7 cm"]);
    assert!(!calm.contains("Is the warp"), "{calm}");
    add(&["weft", "mass=160 g"]);
    assert!(!add(&["woven", "woven=10 cm", "weft_left=154.8 g"]).contains("weft last"));
    let worse = add(&["woven", "woven=40 cm", "weft_left=110 g"]);
    assert!(worse.contains("Will the weft last?") && worse.contains("cm short"), "{worse}");
    let ahead = said(&program(here, &["log", "tern-bay-tee.toml", "ahead", "--by", "2031-01-01"]));
    for words in
        ["Will the weft last?", "in 100", "Make it", "garment.length = ", "Hours left", "Will it be done in time?"]
    {
        assert!(ahead.contains(words), "{words} in\n{ahead}");
    }
    let late = said(&program(here, &["log", "tern-bay-tee.toml", "ahead", "--by", "soon"]));
    assert!(late.contains("no day such as"), "{late}");
    let rest = add(&["minutes", "step=weaving", "time=95 min", "done_length=20 cm"]);
    assert!(rest.contains("Rest 10 minutes"), "{rest}");
}

/// A plan whose figures were measured says so on its page, and why.
#[test]
fn what_was_measured_is_explained() {
    let mut outcome = worked("tern-bay-tee.toml", 64);
    with_history(&mut outcome);
    let ahead = outcome.ahead.clone().expect("a log");
    let mut measured = clothwright::outlook::work_up(ahead.brief.clone(), 64);
    measured.ahead = Some(ahead);
    let of = |slot: u16| clothwright::outlook::explain::explain(&measured, slot).expect("an explanation").why;
    assert!(of(id::WARP_COUNT.slot).starts_with("Measured, by your log. From 9 skeins of 6 bobbins."));
    assert!(of(id::SETT_IN_REED.slot).starts_with("Made already"));
    assert!(measured.get(&id::WARP_COUNT).expect("a count").get(&TEX) > 55.0);
}

/// Entries that no scale or ruler gives, and that a slip of the finger does: an answer or a sentence, never a crash.
#[test]
fn absurd_entries_do_no_harm() {
    use clothwright::log::{Draft, Log, Moment, Options, samples::samples};
    use clothwright::outlook::ahead::{Asked, ahead, in_time, json as ahead_json, odd};
    let brief = worked("tern-bay-tee.toml", 0).brief;
    let entries: &[(&str, &[(&str, &str)])] = &[
        ("warp", &[("threads", "1"), ("wound", "0.001 mm"), ("in_reed", "0.001 mm")]),
        ("warp", &[("threads", "1000000000"), ("wound", "900000 km"), ("in_reed", "0.001 mm")]),
        ("skein", &[("bobbin", "1"), ("mass", "1000 kg"), ("counted", "0.001 mm"), ("after_washing", "900000 km")]),
        (
            "skein",
            &[
                ("bobbin", "1"),
                ("mass", "0.001 mg"),
                ("counted", "900000 km"),
                ("break_load", "0.001 cN; 900000 N"),
                ("gauge", "1 km"),
            ],
        ),
        ("skein", &[("bobbin", "2"), ("twist_set", "0.001 /m"), ("twist", "900000 /cm")]),
        (
            "bobbin",
            &[("bobbin", "4000000000"), ("mass", "0.001 mg"), ("check_length", "900000 km"), ("check_mass", "1000 kg")],
        ),
        ("bobbin", &[("bobbin", "1"), ("mass", "1000 kg"), ("check_length", "0.001 mm"), ("check_mass", "0.001 mg")]),
        (
            "swatch",
            &[
                ("warp", "1"),
                ("in_reed", "1 km"),
                ("width_off_loom", "1 mm"),
                ("width_washed", "1 km"),
                ("length_on_loom", "1 mm"),
                ("length_off_loom", "1 km"),
                ("length_washed", "1 mm"),
                ("warp_thread", "1 mm"),
                ("warp_cloth", "1 km"),
            ],
        ),
        ("fibre", &[("stage", "ginning"), ("before", "0.001 mg"), ("after", "1000 kg")]),
        ("fibre", &[("stage", "carding"), ("before", "1000 kg"), ("after", "0 g")]),
        ("minutes", &[("step", "spinning"), ("time", "1000000 h"), ("done_length", "0.001 mm")]),
        ("minutes", &[("step", "weaving"), ("time", "0.001 s"), ("done_length", "900000 km")]),
        ("weft", &[("mass", "1000 kg")]),
        ("picks", &[("picks", "900000 /cm")]),
        ("woven", &[("woven", "0 cm"), ("weft_left", "0 g")]),
        ("woven", &[("woven", "900000 km"), ("weft_left", "0.001 mg")]),
        ("breaks", &[("ends", "1000000000")]),
    ];
    let when = Moment::read("2031-04-02").expect("a moment");
    let run = |chosen: &[usize]| {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let mut log = Log::open(&folder.path().join("a.log"), &Options::default()).expect("a log");
        for at in chosen {
            let (kind, fields) = entries[*at];
            let draft = fields.iter().fold(Draft::new(kind), |draft, (field, text)| draft.with(field, text));
            // what is refused is told; the rest is kept
            if let Err(why) = log.add(&draft.at(when), when) {
                assert!(!why.to_string().is_empty());
            }
        }
        let samples = samples(&log.list().expect("entries"));
        assert!(odd(&samples).iter().all(|words| !words.contains("NaN")));
        let asked = Asked { today: when.day(), rescues: chosen.len() > 3 };
        match ahead(&brief, &samples, asked) {
            Ok(found) => {
                let said = ahead_json(&found).to_string();
                assert!(!said.contains("NaN") && !said.contains("null"), "{chosen:?}: {said}");
                let late =
                    in_time(&found.clock, &samples, i64::from(i32::MAX), clothwright::units::show::Style::Metric);
                assert!((0.0..=1.0).contains(&late.chance));
                for forecast in &found.forecasts {
                    assert!((0.0..=1.0).contains(&forecast.chance), "{chosen:?}: {forecast:?}");
                }
            }
            Err(why) => assert!(!why.why.is_empty()),
        }
    };
    let mut sets: Vec<Vec<usize>> = (0..entries.len()).map(|at| vec![at]).collect();
    sets.push((0..entries.len()).collect());
    sets.push((0..entries.len()).rev().collect());
    let crashed: Vec<&Vec<usize>> = sets
        .iter()
        .filter(|set| std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| run(set))).is_err())
        .collect();
    assert!(crashed.is_empty(), "{crashed:?}");
}
