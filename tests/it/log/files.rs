//! Files that are older, foreign, damaged, locked, full or write-protected.

use super::{note, now, open, place, skein};
use clothwright::log::{Log, Options, Trouble};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

#[test]
fn older_forms_are_brought_up() {
    for (form, text) in
        [(1, include_str!("../../fixtures/log-form-1.sql")), (2, include_str!("../../fixtures/log-form-2.sql"))]
    {
        let (_folder, path) = place();
        rusqlite::Connection::open(&path).unwrap().execute_batch(text).unwrap();
        let read_only = Options { read_only: true, ..Options::default() };
        assert!(matches!(Log::open(&path, &read_only), Err(Trouble::Older)), "form {form}");
        let mut log = open(&path);
        assert_eq!(log.form().unwrap(), 3);
        let list = log.list().unwrap();
        assert_eq!(list.len(), 1, "form {form}");
        assert_eq!(list[0].typed("mass"), Some("1.62 g"));
        let rows = log.rows().unwrap();
        assert_eq!(rows.len(), 4);
        assert_eq!(rows[0].figures.iter().find(|(n, _)| n == "break_load").unwrap().1.len(), 2);
        assert_eq!(rows[2].figures[0].1[0].typed, "damp morning; \"sticky\"");
        let stands = log.progress("threading").unwrap();
        assert_eq!(stands.as_ref().map(|p| (p.at, p.revision)), (form == 2).then_some((41, 2)));
        log.add(&skein(9).marked("new"), now()).unwrap();
        log.examine().unwrap();
    }
}

#[test]
fn other_peoples_files_are_left_alone() {
    let (folder, path) = place();
    let says = |trouble: Trouble| trouble.to_string();
    let refused = |path: &Path| Log::open(path, &Options::default()).expect_err("must be refused");

    std::fs::write(&path, b"not a database at all, but long enough to have a header: ".repeat(40)).unwrap();
    assert!(says(refused(&path)).contains("is not a bench log"));
    assert_eq!(std::fs::read(&path).unwrap().len(), 57 * 40, "left as it is");

    let theirs = folder.path().join("theirs.db");
    rusqlite::Connection::open(&theirs)
        .unwrap()
        .execute_batch("CREATE TABLE entries (id); PRAGMA user_version=3;")
        .unwrap();
    assert!(says(refused(&theirs)).contains("another program"));

    let newer = folder.path().join("newer.db");
    drop(open(&newer));
    rusqlite::Connection::open(&newer).unwrap().execute_batch("PRAGMA user_version=9;").unwrap();
    let text = says(refused(&newer));
    assert!(
        text.contains("newer program (form 9; this one knows 3)") && text.contains("nothing was changed"),
        "{text}"
    );

    for sql in [
        "CREATE TRIGGER spy AFTER INSERT ON entries BEGIN SELECT load_extension('x'); END",
        "CREATE VIEW notes AS SELECT * FROM entries",
        "DROP TRIGGER entries_stay",
        "PRAGMA user_version=-4",
    ] {
        let changed = folder.path().join("changed.db");
        let _ = std::fs::remove_file(&changed);
        drop(open(&changed));
        rusqlite::Connection::open(&changed).unwrap().execute_batch(sql).unwrap();
        assert!(says(refused(&changed)).contains("not those this program makes"), "{sql}");
    }
    assert!(matches!(refused(folder.path()), Trouble::NotALog(..)));
    assert!(matches!(refused(&folder.path().join("no/such/folder/log.db")), Trouble::Closed(_)));
    let empty = folder.path().join("empty.db");
    std::fs::write(&empty, b"").unwrap();
    open(&empty).add(&note("an empty file is a new log"), now()).unwrap();
}

/// 300 files with bytes turned over or their end cut off: an error or a log, never a panic, and no row that breaks a check.
#[test]
fn damaged_files_are_refused_or_sound() {
    let (folder, path) = place();
    let mut log = open(&path);
    for i in 1..=40 {
        log.add(&skein(i), now()).unwrap();
    }
    drop(log);
    let sound = std::fs::read(&path).unwrap();
    let mut chance = Pcg64Mcg::seed_from_u64(7);
    let mut refused = 0;
    for i in 0..300 {
        let mut bytes = sound.clone();
        if i % 5 == 0 {
            bytes.truncate(chance.random_range(0..bytes.len()));
        }
        for _ in 0..chance.random_range(1..20) {
            if !bytes.is_empty() {
                let at = chance.random_range(0..bytes.len());
                bytes[at] = chance.random();
            }
        }
        let damaged = folder.path().join(format!("damaged {i}.db"));
        std::fs::write(&damaged, &bytes).unwrap();
        match Log::open(&damaged, &Options::default()) {
            Err(trouble) => {
                refused += 1;
                assert!(!trouble.to_string().is_empty());
            }
            Ok(log) => {
                if let Ok(list) = log.list() {
                    assert!(list.iter().all(|e| e.si("mass").is_none_or(f64::is_finite)));
                }
            }
        }
    }
    assert!(refused > 150, "{refused} of 300 refused");
}

#[test]
fn a_full_disk_says_so_and_keeps_what_it_has() {
    let (_folder, path) = place();
    let small = Options { most_bytes: 200_000, ..Options::default() };
    let mut log = Log::open(&path, &small).unwrap();
    let mut written = 0;
    let trouble = loop {
        match log.add(&note(&"long words ".repeat(300)), now()) {
            Ok(_) => written += 1,
            Err(trouble) => break trouble,
        }
        assert!(written < 1000);
    };
    assert!(matches!(trouble, Trouble::Full), "{trouble:?}");
    assert!(trouble.to_string().contains("NOT saved"));
    assert!(matches!(log.set_progress("weaving", 1, &"x".repeat(8000), 0, now()), Err(Trouble::Full)));
    assert_eq!(log.list().unwrap().len(), written);
    log.examine().unwrap();
    drop(log);
    let mut roomy = open(&path);
    roomy.add(&note("there is room again"), now()).unwrap();
    assert_eq!(roomy.list().unwrap().len(), written + 1);
}

#[test]
fn where_it_can_only_be_read_it_can_be_read() {
    let (_folder, path) = place();
    open(&path).add(&skein(1), now()).unwrap();
    let mut log = Log::open(&path, &Options { read_only: true, ..Options::default() }).unwrap();
    assert_eq!(log.list().unwrap().len(), 1);
    let refused = log.add(&skein(2), now()).unwrap_err();
    assert!(matches!(refused, Trouble::ReadOnly) && refused.to_string().contains("only be read"), "{refused:?}");
    assert!(matches!(log.set_progress("weaving", 1, "", 0, now()), Err(Trouble::ReadOnly)));
    assert!(matches!(log.undo(None, now()), Err(Trouble::ReadOnly)));
}

/// On a mount that cannot be written, made in a name space of its own. Root may write anywhere mode bits say no, so nothing
/// less is a test. Where name spaces are not allowed, the test says so and leaves it to the one above.
#[test]
fn on_a_read_only_mount() {
    let (folder, path) = place();
    open(&path).add(&skein(1), now()).unwrap();
    let program = std::env::current_exe().unwrap();
    let script = "mount --bind \"$1\" \"$1\" && mount -o remount,ro,bind \"$1\" || exit 77; exec \"$2\" log::files::reads_where_it_is_told --exact --nocapture";
    let done = Command::new("unshare")
        .args(["-rm", "sh", "-c", script, "sh"])
        .arg(folder.path())
        .arg(program)
        .env("CLOTHWRIGHT_TEST_READ", &path)
        .output();
    match done {
        Ok(out) if out.status.code() != Some(77) && !String::from_utf8_lossy(&out.stderr).contains("unshare:") => {
            let said = String::from_utf8_lossy(&out.stderr);
            assert!(out.status.success() && said.contains("read 1, wrote none"), "{said}");
        }
        _ => eprintln!("no right to make a read-only mount here: not tried"),
    }
}

/// Not a test by itself: the process run by the one above.
#[test]
fn reads_where_it_is_told() {
    let Ok(path) = std::env::var("CLOTHWRIGHT_TEST_READ") else { return };
    let path = PathBuf::from(path);
    let refused = Log::open(&path, &Options::default()).expect_err("it cannot be written here");
    assert!(matches!(refused, Trouble::ReadOnly), "{refused:?}");
    let log = Log::open(&path, &Options { read_only: true, ..Options::default() }).unwrap();
    eprintln!("read {}, wrote none", log.list().unwrap().len());
}

#[test]
fn a_locked_log_says_try_again() {
    let (_folder, path) = place();
    let mut log = Log::open(&path, &Options { wait: Duration::from_millis(60), ..Options::default() }).unwrap();
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let busy = log.add(&skein(1), now()).unwrap_err();
    assert!(matches!(busy, Trouble::Busy) && busy.to_string().contains("try again"), "{busy:?}");
    assert!(log.list().unwrap().is_empty(), "reading goes on");
    other.execute_batch("ROLLBACK").unwrap();
    log.add(&skein(1), now()).unwrap();
}

#[test]
fn many_open_a_new_log_at_once() {
    let (_folder, path) = place();
    std::thread::scope(|s| {
        for i in 1..=8 {
            let path = &path;
            s.spawn(move || open(path).add(&skein(i), now()).unwrap());
        }
    });
    assert_eq!(open(&path).list().unwrap().len(), 8);
}
