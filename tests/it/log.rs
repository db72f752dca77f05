//! The bench log: what goes in comes out, nothing is destroyed, older forms are brought up, hostile files and failing disks are
//! told apart, and `kill -9` at any moment loses nothing that was acknowledged.
//!
//! A kill proves that a write is whole or not at all, not that it is on the disk (the machine's cache outlives the process), so
//! the settings that put it there are asserted as well. Run time in the dev profile: about 8 s, most of it the kills.
#![expect(clippy::disallowed_methods, reason = "a test plants files and hands its own program a path")]

mod files;
mod history;
mod kills;
mod world;

use clothwright::log::{Draft, Entry, Log, Moment, Options, Trouble, card, samples};
use clothwright::units::{G, M, Q, TEX};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::path::{Path, PathBuf};

fn now() -> Moment {
    Moment::read("2031-04-02T14:30:00Z").expect("a time")
}

/// A folder of its own that goes away, and a path in it.
fn place() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("bench log.db");
    (folder, path)
}

fn open(path: &Path) -> Log {
    Log::open(path, &Options::default()).unwrap_or_else(|t| panic!("{t}"))
}

fn skein(bobbin: u32) -> Draft {
    Draft::new("skein")
        .with("bobbin", &bobbin.to_string())
        .with("mass", "1.62 g")
        .with("counted", "31 m")
        .with("after_washing", "30 m")
        .with("break_load", "480 cN; 510 cN; 455 cN")
}

fn note(text: &str) -> Draft {
    Draft::new("note").with("note", text)
}

#[test]
fn as_typed_and_in_si_with_corrections_applied() {
    let (_folder, path) = place();
    let mut log = open(&path);
    assert!(log.is_durable().unwrap());
    let id = log.add(&skein(3), now()).unwrap();
    let entry = |log: &Log| -> Entry { log.list().unwrap().into_iter().find(|e| e.id == id).unwrap() };
    assert_eq!(entry(&log).typed("mass"), Some("1.62 g"));
    assert!((entry(&log).si("mass").unwrap() - 0.00162).abs() < 1e-12);
    assert_eq!(entry(&log).values("break_load").len(), 3);

    let change = |field: &str, text: &str| vec![(field.to_string(), text.to_string())];
    let fix = log.fix(id, &change("mass", "0.06 oz"), None, now()).unwrap();
    assert_eq!(entry(&log).typed("mass"), Some("0.06 oz"));
    assert_eq!(entry(&log).corrected_by, Some(fix));
    assert_eq!(entry(&log).typed("counted"), Some("31 m"), "what was not corrected stays");
    // A correction of the correction is one of the entry; an emptied field goes.
    let again = log.fix(fix, &change("after_washing", ""), None, now()).unwrap();
    assert_eq!(entry(&log).typed("after_washing"), None);
    // Taking back the later correction leaves the earlier; taking that back, the entry as added.
    assert_eq!(log.undo(None, now()).unwrap(), again);
    assert_eq!(entry(&log).typed("after_washing"), Some("30 m"));
    assert_eq!(log.undo(Some(fix), now()).unwrap(), fix);
    assert_eq!(entry(&log).typed("mass"), Some("1.62 g"));
    // The entry itself, and back again.
    log.undo(Some(id), now()).unwrap();
    assert!(log.list().unwrap().is_empty());
    let undo = log.rows().unwrap().last().unwrap().id;
    log.undo(Some(undo), now()).unwrap();
    assert_eq!(entry(&log).typed("mass"), Some("1.62 g"));
    assert_eq!(log.rows().unwrap().len(), 7, "every row is still there");

    assert!(matches!(log.fix(999, &[], None, now()), Err(Trouble::NoSuch(999))));
    assert!(matches!(log.undo(Some(fix), now()), Err(Trouble::NoSuch(_))), "taken back already");
    let bad = log.fix(id, &change("mass", "heavy"), None, now()).unwrap_err().to_string();
    assert!(bad.starts_with("mass: "), "{bad}");
    let (_f, empty) = place();
    assert!(matches!(open(&empty).undo(None, now()), Err(Trouble::NothingToUndo)));
}

#[test]
fn nothing_can_be_destroyed_not_even_by_another_program() {
    let (_folder, path) = place();
    let mut log = open(&path);
    log.add(&skein(1), now()).unwrap();
    log.set_progress("weaving", 5, "", 0, now()).unwrap();
    let other = rusqlite::Connection::open(&path).unwrap();
    for sql in [
        "DELETE FROM entries",
        "UPDATE entries SET kind = 'note'",
        "DELETE FROM figures",
        "UPDATE figures SET si = 1.0",
        "DELETE FROM progress",
        "UPDATE progress SET at = 0",
        "INSERT INTO entries VALUES (NULL, 'fix', 'skein', 77, 0, 0, NULL)",
        "INSERT INTO entries VALUES (NULL, 'burn', 'skein', NULL, 0, 0, NULL)",
        "INSERT INTO entries VALUES (NULL, 'add', 'skein', NULL, 'today', 0, NULL)",
        "INSERT INTO figures VALUES (1, 'mass', 5, 'much', 'x')",
    ] {
        assert!(other.execute_batch(sql).is_err(), "{sql}");
    }
    assert_eq!(log.list().unwrap().len(), 1);
}

#[test]
fn the_same_mark_is_written_once() {
    let (_folder, path) = place();
    let mut log = open(&path);
    let id = log.add(&skein(1).marked("phone-7"), now()).unwrap();
    assert_eq!(log.add(&skein(1).marked("phone-7"), now()).unwrap(), id);
    assert_eq!(log.rows().unwrap().len(), 1);
    let clash = log.add(&note("x").marked("phone-7"), now()).unwrap_err().to_string();
    assert!(clash.contains("belongs to a skein"), "{clash}");
}

#[test]
fn csv_round_trip_and_twice_is_once() {
    let (_folder, path) = place();
    let mut log = open(&path);
    let id = log.add(&skein(3), now()).unwrap();
    log.fix(id, &[("mass".into(), "1.7 g".into())], Moment::read("2031-03-30"), now()).unwrap();
    log.add(&note("=HYPERLINK(\"x\"), it said, 'so'\nand went on").marked("m1"), now()).unwrap();
    log.add(&Draft::new("temperature").with("low", "-3 °C").with("high", "11 °C"), now()).unwrap();
    log.add(&skein(3), now()).unwrap();
    log.undo(None, now()).unwrap();
    let text = log.export_csv().unwrap();
    assert!(text.contains("'=HYPERLINK"), "{text}");

    let (_other_folder, other) = place();
    let mut copy = open(&other);
    let done = copy.import_csv(&text, now()).unwrap();
    assert_eq!((done.added, done.known), (6, 0));
    assert_eq!(copy.export_csv().unwrap(), text);
    assert_eq!(copy.list().unwrap(), log.list().unwrap());
    // Again, and after the log has gone on: nothing twice, the rest joins.
    assert_eq!(copy.import_csv(&text, now()).unwrap().added, 0);
    log.add(&note("later"), now()).unwrap();
    let done = copy.import_csv(&log.export_csv().unwrap(), now()).unwrap();
    assert_eq!((done.added, done.known), (1, 6));
    assert_eq!(copy.list().unwrap(), log.list().unwrap());
}

#[test]
fn an_own_sheet_needs_little_and_faults_are_told_by_line() {
    let (_folder, path) = place();
    let mut log = open(&path);
    let sheet = "\u{feff}happened,kind,bobbin,mass,counted\r\n2031-03-01,bobbin,1,75 g,1450 m\r\n\r\n2031-03-04,bobbin,2,71 g,\r\n";
    assert_eq!(log.import_csv(sheet, now()).unwrap().added, 2);
    assert_eq!(log.import_csv(sheet, now()).unwrap().known, 2);
    let bad = "kind,bobbin,mass,happened\nbobbin,1,75 gg,\nbobin,1,75 g,\nbobbin,1,75 g,soon\nbobbin,1,75 g,,,\n";
    let faults = log.import_csv(bad, now()).unwrap_err().to_string();
    for part in ["line 2: mass: ", "line 3: ", "did you mean `bobbin`?", "line 4: happened: ", "line 5: "] {
        assert!(faults.contains(part), "{part} in\n{faults}");
    }
    assert_eq!(log.list().unwrap().len(), 2, "all or nothing");
    for (text, says) in [
        ("", "empty"),
        ("kind,kind\n", "stands twice"),
        ("knid\n", "did you mean `kind`?"),
        ("kind,act,target\nnote,undo,5\n", "no row above has the number 5"),
        ("kind,act\nnote,burn\n", "none of add, fix, undo"),
        ("kind,\"note\n", "never closed"),
    ] {
        let faults = log.import_csv(text, now()).unwrap_err().to_string();
        assert!(faults.contains(says), "{text:?}: {faults}");
    }
    let many = format!("kind,note\n{}", "no,x\n".repeat(5000));
    assert!(log.import_csv(&many, now()).unwrap_err().to_string().lines().count() <= 50);
}

#[test]
fn progress_moves_on_and_stale_screens_are_told() {
    let (_folder, path) = place();
    let (mut phone, mut laptop) = (open(&path), open(&path));
    assert_eq!(phone.progress("threading").unwrap(), None);
    let first = phone.set_progress("threading", 1, "", 0, now()).unwrap();
    let second = phone.set_progress("threading", 2, "{\"slot\":1}", first.revision, now()).unwrap();
    assert!(second.revision > first.revision);
    let stale = laptop.set_progress("threading", 2, "", first.revision, now()).unwrap_err();
    assert!(matches!(stale, Trouble::Moved { at: 2, revision } if revision == second.revision), "{stale:?}");
    // The answer was lost and the phone sends again: one row, the same answer.
    assert_eq!(phone.set_progress("threading", 2, "{\"slot\":1}", first.revision, now()).unwrap(), second);
    // Going back is a move too.
    let back = laptop.set_progress("threading", 1, "", second.revision, now()).unwrap();
    assert!(back.revision > second.revision);
    let other = laptop.set_progress("weaving", 7, "", 0, now()).unwrap();
    let all: Vec<_> = phone.all_progress().unwrap().into_iter().map(|p| (p.step, p.at)).collect();
    assert_eq!(all, [("threading".to_string(), 1), ("weaving".to_string(), 7)]);
    assert!(other.revision > back.revision);
    assert_eq!(phone.moves("threading", 2).unwrap().iter().map(|p| p.at).collect::<Vec<_>>(), [2, 1]);
    for (step, at, state) in [("", 1, ""), (&"x".repeat(41), 1, ""), ("w", u32::MAX, ""), ("w", 1, &"x".repeat(8001))] {
        assert!(matches!(phone.set_progress(step, at, state, 0, now()), Err(Trouble::Entry(_))), "{step} {at}");
    }
}

/// Adds, corrections and undoes by chance, against the plainest model there is.
#[test]
fn list_is_what_the_acts_add_up_to() {
    for seed in 0..6 {
        let (_folder, path) = place();
        let mut log = open(&path);
        let mut chance = Pcg64Mcg::seed_from_u64(seed);
        // (row, what it does, to which row, the words)
        let mut acts: Vec<(i64, u8, i64, String)> = Vec::new();
        for k in 0..40 {
            let words = format!("words {k}");
            let pick = |c: &mut Pcg64Mcg, n: usize| c.random_range(0..n.max(1));
            match chance.random_range(0..4) {
                0 | 1 => acts.push((log.add(&note(&words), now()).unwrap(), 0, 0, words)),
                2 if !acts.is_empty() => {
                    let (id, act, target, _) = acts[pick(&mut chance, acts.len())].clone();
                    let root = if act == 0 { id } else { target };
                    if let Ok(fix) = log.fix(id, &[("note".into(), words.clone())], None, now()) {
                        acts.push((fix, 1, root, words));
                    }
                }
                _ if !acts.is_empty() => {
                    let id = acts[pick(&mut chance, acts.len())].0;
                    if log.undo(Some(id), now()).is_ok() {
                        acts.push((log.rows().unwrap().last().unwrap().id, 2, id, String::new()));
                    }
                }
                _ => {}
            }
        }
        let stands = |id: i64| {
            // A row stands unless an undo of it stands.
            fn stands(acts: &[(i64, u8, i64, String)], id: i64) -> bool {
                !acts.iter().any(|a| a.1 == 2 && a.2 == id && stands(acts, a.0))
            }
            stands(&acts, id)
        };
        let mut want: Vec<(i64, String)> = Vec::new();
        for (id, ..) in acts.iter().filter(|a| a.1 == 0 && stands(a.0)) {
            let last =
                acts.iter().rfind(|a| (a.0 == *id && a.1 == 0) || (a.1 == 1 && a.2 == *id && stands(a.0))).unwrap();
            want.push((*id, last.3.clone()));
        }
        let got: Vec<(i64, String)> =
            log.list().unwrap().iter().map(|e| (e.id, e.typed("note").unwrap().to_string())).collect();
        assert_eq!(got, want, "seed {seed}");
    }
}

#[test]
fn entries_become_samples() {
    let (_folder, path) = place();
    let mut log = open(&path);
    let day = |d: &str| Moment::read(d).unwrap();
    log.add(&skein(1).with("twist_set", "550 /m").with("twist", "540 /m; 14 /in").at(day("2031-03-01")), now())
        .unwrap();
    let bobbin = Draft::new("bobbin").with("bobbin", "2").with("mass", "70 g");
    log.add(&bobbin.clone().with("check_length", "10 m").with("check_mass", "0.53 g").at(day("2031-03-05")), now())
        .unwrap();
    log.add(&bobbin.at(day("2031-03-06")), now()).unwrap();
    for (d, woven, left) in
        [("2031-03-10", "0 cm", "120 g"), ("2031-03-11", "25 cm", "98 g"), ("2031-03-12", "60 cm", "69 g")]
    {
        log.add(&Draft::new("woven").with("woven", woven).with("weft_left", left).at(day(d)), now()).unwrap();
    }
    let work = Draft::new("minutes").with("step", "spinning").with("time", "90 min").with("done_length", "150 m");
    log.add(&work.clone().at(day("2031-03-01")), now()).unwrap();
    log.add(&work.at(day("2031-03-01T18:00Z")), now()).unwrap();
    log.add(&Draft::new("fibre").with("stage", "carding").with("before", "50 g").with("after", "43 g"), now()).unwrap();
    log.add(&Draft::new("breaks").with("ends", "2"), now()).unwrap();

    let found = samples::samples(&log.list().unwrap());
    assert_eq!((found.skeins.len(), found.twists.len(), found.breaks.len()), (2, 2, 3));
    assert_eq!(found.skeins[1].counted, Q::new(10.0, &M));
    assert_eq!(found.bobbins.len(), 1, "a bobbin without a length has no count");
    assert!((found.bobbins[0].count.get(&TEX) - 53.0).abs() < 1e-9);
    assert!((found.bobbins[0].length.get(&M) - 70.0 / 0.053).abs() < 1e-6);
    assert_eq!(found.spun, Some(Q::new(140.0, &G)));
    assert_eq!(found.used.len(), 2);
    assert!((found.used[1].weft.get(&G) - 29.0).abs() < 1e-9 && (found.used[1].woven.get(&M) - 0.35).abs() < 1e-12);
    assert_eq!(found.weft_left, Some(Q::new(69.0, &G)));
    assert_eq!(found.days.len(), 1, "two sittings on one day are one day");
    assert_eq!(found.work["spinning"].by_length.len(), 2);
    assert_eq!(found.batches["carding"].len(), 1);
    assert_eq!(found.ends_broken, 2.0);
}

/// Cards as data, and as a page for the eye in the target folder's `tmp/log`.
#[test]
fn sample_cards_to_print() {
    use clothwright::draw::{png, style::Look, title::Paper};
    let (_folder, path) = place();
    let mut log = open(&path);
    log.add(
        &skein(4)
            .with("twist_set", "550 /m")
            .with("twist", "540 /m; 552 /m")
            .with("note", "Long draw, rolags of the third carding, brake at 4. Felt even."),
        now(),
    )
    .unwrap();
    log.add(
        &Draft::new("bobbin")
            .with("bobbin", "5")
            .with("mass", "74.2 g")
            .with("check_length", "10 m")
            .with("check_mass", "0.53 g")
            .with("use", "warp"),
        now(),
    )
    .unwrap();
    let mut swatch = Draft::new("swatch").with("warp", "1");
    for (field, text) in [
        ("in_reed", "20 cm"),
        ("width_on_loom", "19.2 cm"),
        ("width_off_loom", "18.1 cm"),
        ("width_washed", "16.7 cm"),
        ("length_on_loom", "15 cm"),
        ("length_off_loom", "14.4 cm"),
        ("length_washed", "13.2 cm"),
        ("picks_on_loom", "13 /cm"),
        ("picks_off_loom", "13.5 /cm"),
        ("picks_washed", "14.8 /cm"),
        ("ends_off_loom", "14.2 /cm"),
        ("warp_thread", "10.75 cm"),
        ("warp_cloth", "10 cm"),
    ] {
        swatch = swatch.with(field, text);
    }
    log.add(&swatch, now()).unwrap();
    log.add(&Draft::new("fibre").with("stage", "carding").with("before", "50 g").with("after", "43 g"), now()).unwrap();
    log.add(&note("has no card"), now()).unwrap();
    let cards: Vec<card::Card> = log.list().unwrap().iter().filter_map(card::card).collect();
    assert_eq!(cards.len(), 4);
    assert_eq!((cards[0].title.as_str(), cards[0].day.as_str()), ("Sample skein, bobbin 4", "2031-04-02"));
    let line = |card: &card::Card, words: &str| card.results.iter().find(|(w, _)| w == words).map(|(_, v)| v.clone());
    assert_eq!(line(&cards[0], "count, washed").as_deref(), Some("54 tex"));
    assert_eq!(line(&cards[0], "lost in the wash").as_deref(), Some("3.2 %"));
    assert_eq!(line(&cards[2], "taken up, warp").as_deref(), Some("7.0 %"));
    let pages = card::pages(&cards, Paper::A4);
    assert_eq!(pages.len(), 1);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("log");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("cards.png"), png::bytes(&pages[0], 110.0, Look::Print).unwrap()).unwrap();
    let many: Vec<card::Card> = std::iter::repeat_n(cards[2].clone(), 9).collect();
    assert_eq!(card::pages(&many, Paper::Letter).len(), 3);
}

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/log.md");

#[test]
fn the_manual_of_the_log_is_what_its_table_says() {
    let is = std::fs::read_to_string(PAGE).unwrap_or_default();
    let behind = "docs/log.md is behind the table: cargo test --test it write_the_log_manual -- --ignored";
    assert!(is == clothwright::log::page::page(), "{behind}");
}

#[test]
#[ignore = "writes docs/log.md"]
fn write_the_log_manual() {
    std::fs::write(PAGE, clothwright::log::page::page()).expect("docs can be written");
}

/// Every command the manual shows as an example is taken as it stands.
#[test]
fn the_examples_of_the_manual_are_taken() {
    let (_folder, path) = place();
    let mut log = open(&path);
    let page = clothwright::log::page::page();
    let mut taken = 0;
    for line in page.lines().filter_map(|line| line.trim().strip_prefix("clothwright log my-plan.toml add ")) {
        let (kind, rest) = line.split_once(' ').expect("a kind");
        // quotes as a shell takes them off: parts by `=` and a closing quote or blank
        let mut words = Vec::new();
        let mut left = rest;
        while let Some((field, after)) = left.split_once('=') {
            let (value, next) = match after.strip_prefix('"') {
                Some(quoted) => quoted.split_once('"').expect("a closing quote"),
                None => after.split_once(' ').unwrap_or((after, "")),
            };
            words.push(format!("{}={value}", field.trim()));
            left = next;
        }
        log.add(&Draft::read(kind, &words).unwrap_or_else(|why| panic!("{line}: {why}")), now()).expect("kept");
        taken += 1;
    }
    assert!(taken >= 6);
}
