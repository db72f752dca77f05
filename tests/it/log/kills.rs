//! Two writers killed at random moments, again and again. About 5 s.

use super::{now, open, place, skein};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Not a test by itself: the writer that is killed by the one below.
#[test]
fn writes_until_it_is_killed() {
    let Ok(task) = std::env::var("CLOTHWRIGHT_TEST_WRITE") else { return };
    let (name, path) = task.split_once(' ').expect("a name and a path");
    let mut log = open(Path::new(path));
    // One write a line: a kill in the middle of a line would look like another entry.
    let say = |line: String| std::io::stderr().write_all(line.as_bytes()).expect("the pipe holds");
    let mut seen = log.progress(name).unwrap().map_or(0, |p| p.revision);
    for i in 0..60 {
        let id = log.add(&skein(i + 1).marked(&format!("{name} {i}")), now()).unwrap();
        // Only what is acknowledged is said.
        say(format!("entry {name} {i}\n"));
        if i % 3 == 0 {
            log.fix(id, &[("mass".into(), "2 g".into())], None, now()).unwrap();
            say(format!("fix {id}\n"));
        }
        seen = log.set_progress(name, i + 1, "", seen, now()).unwrap().revision;
        say(format!("progress {name} {}\n", i + 1));
    }
}

fn writer(path: &Path, name: &str) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args(["log::kills::writes_until_it_is_killed", "--exact", "--nocapture"])
        .env("CLOTHWRIGHT_TEST_WRITE", format!("{name} {}", path.display()))
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the test program starts")
}

/// What a writer said before it ended, killed `wait` after it has said `lines` lines unless it was done; with no lines from its
/// start, so that opening and making the file are cut short too. Lines, not time, so that a slow disk is tried as hard.
fn said_until_killed(mut child: Child, lines: usize, wait: Duration) -> (Vec<String>, bool) {
    let pipe = child.stderr.take().expect("a pipe");
    let (says, begun) = std::sync::mpsc::channel();
    let killer = std::thread::spawn(move || {
        // Fewer come only when it ends by itself.
        let _ = begun.iter().take(lines).count();
        std::thread::sleep(wait);
        // SIGKILL; an error means that it ended by itself.
        let _ = child.kill();
        child.wait().expect("it ends")
    });
    let mut said = Vec::new();
    for line in BufReader::new(pipe).lines().map_while(Result::ok) {
        said.push(line);
        let _ = says.send(());
    }
    drop(says);
    (said, !killer.join().expect("the killer ends").success())
}

#[test]
fn kill_at_any_moment_loses_nothing_acknowledged() {
    let (_folder, path) = place();
    let mut chance = Pcg64Mcg::seed_from_u64(9);
    let mut said: BTreeSet<String> = BTreeSet::new();
    let (mut killed, mut rounds) = (0, 0);
    while said.len() < 1000 || killed < 20 {
        rounds += 1;
        assert!(rounds < 120, "{} acknowledged, {killed} killed", said.len());
        let at_start = rounds % 4 == 0;
        let waits = [(); 2].map(|()| {
            let most = if at_start { 150_000 } else { 8_000 };
            let lines = if at_start { 0 } else { chance.random_range(1..100) };
            (lines, Duration::from_micros(chance.random_range(1..most)))
        });
        let readers: Vec<_> = ["a", "b"]
            .iter()
            .zip(waits)
            .map(|(who, (lines, wait))| {
                let child = writer(&path, &format!("{who}{rounds}"));
                std::thread::spawn(move || said_until_killed(child, lines, wait))
            })
            .collect();
        for reader in readers {
            let (lines, was_killed) = reader.join().expect("the reader ends");
            assert!(!lines.iter().any(|l| l.contains("panicked")), "{lines:?}");
            killed += u32::from(was_killed && !lines.is_empty());
            said.extend(lines.into_iter().filter(|l| ["entry ", "fix ", "progress "].iter().any(|w| l.starts_with(w))));
        }
        let log = open(&path);
        log.examine().unwrap_or_else(|t| panic!("round {rounds}: {t}"));
    }
    let log = open(&path);
    let rows = log.rows().unwrap();
    let marks: BTreeSet<&str> = rows.iter().filter_map(|r| r.mark.as_deref()).collect();
    let adds = rows.iter().filter(|r| r.mark.is_some()).count();
    assert_eq!(marks.len(), adds, "no entry twice");
    for line in &said {
        let (what, rest) = line.split_once(' ').unwrap();
        match what {
            "entry" => assert!(marks.contains(rest), "{line} was acknowledged and is gone"),
            "fix" => {
                let id: i64 = rest.parse().unwrap();
                assert!(rows.iter().any(|r| r.target == Some(id)), "{line} was acknowledged and is gone");
            }
            _ => {
                let (name, at) = rest.split_once(' ').unwrap();
                let stands = log.progress(name).unwrap().unwrap();
                assert!(stands.at >= at.parse().unwrap(), "{line} was acknowledged and is gone");
            }
        }
    }
    // An entry is whole or not there: five fields, three break loads.
    for row in rows.iter().filter(|r| r.kind == "skein") {
        assert_eq!((row.figures.len(), row.figures[4].1.len()), (5, 3), "{row:?}");
    }
    println!("{} acknowledged over {rounds} rounds, {killed} writers killed, {} rows", said.len(), rows.len());
}
