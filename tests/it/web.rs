//! The workbench over real HTTP on loopback: every page answers, a change reaches the file and the figures, and nothing is done for a
//! stranger.
#![expect(clippy::disallowed_methods, reason = "the tests write plans of their own and speak HTTP")]

use crate::scene::{root, without_pictures};
use clothwright::web::{Serving, serve};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::PathBuf;
use std::sync::mpsc;
use std::time::Duration;

/// A workbench over a copy of a shipped plan.
struct Bench {
    address: SocketAddr,
    plan: PathBuf,
    _folder: tempfile::TempDir,
}

/// A workbench over that plan, until the test program ends.
fn served(plan: &std::path::Path) -> SocketAddr {
    let (tell, told) = mpsc::channel();
    let plan = plan.to_path_buf();
    let serving = Serving { plan: Some(plan), ..Serving::default() };
    std::thread::spawn(move || serve(&serving, |served| tell.send(served.address).expect("told")));
    told.recv_timeout(Duration::from_secs(60)).expect("it is ready")
}

struct Answer {
    status: u16,
    head: String,
    body: String,
}

impl Bench {
    fn over(name: &str) -> Bench {
        let folder = tempfile::tempdir().expect("a folder");
        let plan = folder.path().join(name);
        std::fs::copy(root().join("plans").join(name), &plan).expect("a copy of the plan");
        Bench { address: served(&plan), plan, _folder: folder }
    }

    fn send(&self, request: &str) -> Answer {
        let mut stream = TcpStream::connect(self.address).expect("it listens");
        stream.set_read_timeout(Some(Duration::from_secs(120))).expect("a limit");
        stream.write_all(request.as_bytes()).expect("sent");
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).expect("an answer");
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").expect("a head and a body");
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
        Answer { status, head: head.to_lowercase(), body: body.to_string() }
    }

    fn get(&self, path: &str) -> Answer {
        self.send(&format!("GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.address))
    }

    fn post(&self, path: &str, form: &str) -> Answer {
        let own = format!("http://{}", self.address);
        self.post_from(path, form, &own)
    }

    fn post_from(&self, path: &str, form: &str, origin: &str) -> Answer {
        self.send(&format!(
            "POST {path} HTTP/1.1\r\nHost: {}\r\nOrigin: {origin}\r\nContent-Type: application/x-www-form-urlencoded\r\n\
             Content-Length: {}\r\nConnection: close\r\n\r\n{form}",
            self.address,
            form.len()
        ))
    }

    fn text(&self) -> String {
        std::fs::read_to_string(&self.plan).expect("the plan")
    }
}

/// Addresses on a page that lead to a page of ours.
fn links(body: &str) -> Vec<String> {
    body.split("href=\"/").skip(1).filter_map(|rest| Some(format!("/{}", rest.split('"').next()?))).collect()
}

#[test]
fn every_page_a_page_leads_to_is_there() {
    let bench = Bench::over("tern-bay-towel.toml");
    let (mut seen, mut next) = (std::collections::BTreeSet::new(), vec!["/".to_string()]);
    while let Some(path) = next.pop() {
        // pages of one pattern are tried a few times, not hundreds
        let start: String = path.split('/').take(2).collect();
        let many = ["explain", "formulas"].contains(&start.as_str());
        // every drawing is written in every format elsewhere; here one of each format, and all as SVG
        let ending = path.rsplit('.').next().filter(|_| start == "drawing" && !path.ends_with(".svg"));
        if ending
            .is_some_and(|ending| seen.iter().any(|had: &String| had.contains("/drawing/") && had.contains(ending)))
        {
            continue;
        }
        if many && seen.iter().filter(|had: &&String| had.starts_with(&format!("/{start}/"))).count() >= 12 {
            continue;
        }
        if !seen.insert(path.clone()) {
            continue;
        }
        let answer = bench.get(&path);
        if path.contains("/drawing/") && answer.status == 409 {
            // this plan has no such file, and the answer says why
            assert!(answer.body.contains("heddle") || answer.body.contains("set `"), "{path}: {}", answer.body);
            continue;
        }
        assert_eq!(answer.status, 200, "{path}: {}", answer.body);
        let file = answer.head.contains("content-disposition: attachment");
        if file || path.contains("?which=") || path.ends_with(".js") || path.ends_with(".css") {
            continue;
        }
        assert!(answer.body.contains("<h1>"), "{path}");
        let body = without_pictures(&answer.body);
        assert!(!body.contains("NaN") && !body.contains("style=\""), "{path}");
        next.extend(links(&answer.body));
    }
    assert!(seen.len() > 40, "{seen:?}");
}

#[test]
fn a_change_reaches_the_file_and_the_figures_and_is_undone() {
    let bench = Bench::over("tern-bay-towel.toml");
    let (before, json) = (bench.text(), bench.get("/plan.json").body);
    let answer = bench.post("/edit", "key=cloth.edge_draw_in&value=12+mm&part=cloth");
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert!(bench.text().contains("12 mm"), "{}", bench.text());
    assert_ne!(bench.get("/plan.json").body, json);
    assert!(bench.get("/part/warp").body.contains("class=\"moved\""));
    assert_eq!(bench.post("/undo", "").status, 303);
    assert_eq!(bench.text(), before);
    assert_eq!(bench.post("/redo", "").status, 303);
    assert_ne!(bench.text(), before);
}

#[test]
fn a_value_that_cannot_be_is_told_beside_its_field_and_not_kept() {
    let bench = Bench::over("tern-bay-towel.toml");
    let before = bench.text();
    let answer = bench.post("/edit", "key=cloth.edge_draw_in&value=12+kg&part=cloth");
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("role=\"alert\"") && answer.body.contains("value=\"12 kg\""), "{}", answer.body);
    assert_eq!(bench.text(), before);
}

#[test]
fn a_change_made_elsewhere_is_shown() {
    let bench = Bench::over("tern-bay-towel.toml");
    let changed = bench.text().replacen("# ", "# elsewhere ", 1);
    assert_ne!(changed, bench.text());
    std::fs::write(&bench.plan, &changed).expect("written");
    assert!(bench.get("/").body.contains("changed outside the workbench"));
    assert_eq!(bench.text(), changed);
}

#[test]
fn a_stranger_changes_nothing() {
    let bench = Bench::over("tern-bay-towel.toml");
    let before = bench.text();
    let form = "key=cloth.edge_draw_in&value=12+mm&part=cloth";
    for origin in ["http://example.org", "null", "", "https://127.0.0.1"] {
        assert_eq!(bench.post_from("/edit", form, origin).status, 403, "{origin}");
    }
    for host in ["example.org", "127.0.0.1", "localhost.example.org"] {
        let answer = bench.send(&format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"));
        assert_eq!(answer.status, 421, "{host}");
    }
    assert_eq!(bench.text(), before);
    let head = bench.get("/").head;
    assert!(head.contains("content-security-policy: default-src 'none'") && head.contains("nosniff"), "{head}");
    for path in
        ["/drawing/../../etc/passwd", "/drawing/%2e%2e%2fetc.svg", "/explain/nothing", "/part/..", "/formulas/none"]
    {
        assert_eq!(bench.get(path).status, 404, "{path}");
    }
}

#[test]
fn a_count_outlives_the_program_and_the_quicker_device_wins() {
    let bench = Bench::over("tern-bay-towel.toml");
    assert!(bench.get("/bench/threading").body.contains("slot"));
    assert_eq!(bench.post("/bench/warping", "at=1&seen=0").status, 303);
    let page = bench.get("/bench/warping").body;
    assert!(page.contains("<p class=\"count\" aria-live=\"polite\">1<span"), "{page}");
    // another device that still shows the start moves nothing
    assert_eq!(bench.post("/bench/warping", "at=9&seen=0").status, 303);
    assert!(bench.get("/bench/warping").body.contains("aria-live=\"polite\">1<span"));
    let again = Bench {
        address: served(&bench.plan),
        plan: bench.plan.clone(),
        _folder: tempfile::tempdir().expect("a folder"),
    };
    assert!(again.get("/bench/warping").body.contains("aria-live=\"polite\">1<span"));
}

#[test]
fn a_plan_with_a_fault_is_shown_with_its_line() {
    let bench = Bench::over("tern-bay-towel.toml");
    std::fs::write(&bench.plan, bench.text() + "\n[cloth\n").expect("written");
    let answer = bench.get("/");
    assert_eq!(answer.status, 200);
    assert!(answer.body.contains("<b>Line "), "{}", answer.body);
}

#[test]
fn a_key_changed_elsewhere_is_not_written_over_unseen() {
    let bench = Bench::over("tern-bay-towel.toml");
    let form = |value: &str, was: &str| format!("key=cloth.edge_draw_in&value={value}&was={was}&part=cloth");
    assert_eq!(bench.post("/edit", &form("12+mm", "")).status, 303);
    // a page that still shows the field as left open
    let answer = bench.post("/edit", &form("9+mm", ""));
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("changed elsewhere") && answer.body.contains("12 mm"), "{}", answer.body);
    assert!(bench.text().contains("12 mm") && !bench.text().contains("9 mm\""), "{}", bench.text());
    assert_eq!(bench.post("/edit", &form("9+mm", "12+mm")).status, 303);
}

/// A workbench that other devices may reach by a name.
fn open_to_others() -> (Bench, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let plan = folder.path().join("tern-bay-towel.toml");
    std::fs::copy(root().join("plans/tern-bay-towel.toml"), &plan).expect("a copy of the plan");
    let serving =
        Serving { plan: Some(plan.clone()), lan: true, names: vec!["bench.test".into()], ..Serving::default() };
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || serve(&serving, |served| tell.send(served.clone()).expect("told")));
    let served = told.recv_timeout(Duration::from_secs(60)).expect("it is ready");
    let word = served.invitation.expect("an invitation").split_once("word=").expect("a word").1.to_string();
    (Bench { address: served.address, plan, _folder: folder }, word)
}

#[test]
fn another_device_is_let_in_by_a_word_once_and_by_nothing_else() {
    let (bench, word) = open_to_others();
    let host = format!("bench.test:{}", bench.address.port());
    let ask = |method: &str, path: &str, more: &str, body: &str| {
        bench.send(&format!(
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\n{more}Content-Type: \
             application/x-www-form-urlencoded\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            body.len()
        ))
    };
    for path in ["/", "/bench", "/plan.json", "/log.csv", "/events", "/book.html", "/drawing/flow.svg"] {
        assert_eq!(ask("GET", path, "", "").status, 401, "{path}");
        assert_eq!(ask("GET", path, "Cookie: bench=0123456789abcdef\r\n", "").status, 401, "{path}");
    }
    assert_eq!(ask("POST", "/bench/weaving", "", "at=1&seen=0").status, 401);
    // looking at the door uses nothing up
    assert_eq!(ask("GET", &format!("/join?word={word}"), "", "").status, 200);
    assert_eq!(ask("POST", "/join", "", "word=guess").status, 403);
    let joined = ask("POST", "/join", "", &format!("word={word}"));
    assert_eq!(joined.status, 303, "{}", joined.body);
    assert!(joined.head.contains("httponly") && joined.head.contains("samesite=strict"), "{}", joined.head);
    let cookie = joined.head.split_once("set-cookie: ").expect("a cookie").1.split(';').next().expect("its value");
    let cookie = format!("Cookie: {cookie}\r\n");
    assert_eq!(ask("GET", "/bench", &cookie, "").status, 200);
    assert_eq!(ask("GET", "/phone", &cookie, "").status, 403, "whom to let in is decided at the machine");
    // the word is used up, and guesses are few
    assert_eq!(ask("POST", "/join", "", &format!("word={word}")).status, 403);
    let answers: Vec<u16> = (0..20).map(|_| ask("POST", "/join", "", "word=guess").status).collect();
    assert!(answers.ends_with(&[429, 429]), "{answers:?}");
    // a change still has to come from a page of ours
    let stolen = bench.send(&format!(
        "POST /undo HTTP/1.1\r\nHost: {host}\r\nOrigin: http://elsewhere.example\r\n{cookie}Content-Length: 0\r\nConnection: close\r\n\r\n"
    ));
    assert_eq!(stolen.status, 403);
    // a hand that asks too fast waits
    let fast: Vec<u16> = (0..260).map(|_| ask("GET", "/style.css", "", "").status).collect();
    assert!(fast.contains(&429), "none of {} had to wait", fast.len());
}

#[test]
fn a_body_too_large_is_refused() {
    let bench = Bench::over("tern-bay-towel.toml");
    let before = bench.text();
    let answer = bench.post("/edit", &format!("key=title&part=cloth&value={}", "a".repeat(3 << 20)));
    assert_eq!(answer.status, 413);
    assert_eq!(bench.text(), before);
}

#[test]
fn the_log_is_kept_corrected_and_taken_back_on_the_page() {
    let bench = Bench::over("tern-bay-towel.toml");
    let answer = bench.post("/log/add/skein", "bobbin=1&mass=1.6+g&counted=30+m&form.mark=once");
    assert_eq!(answer.status, 303, "{}", answer.body);
    // sent twice, written once
    assert_eq!(bench.post("/log/add/skein", "bobbin=1&mass=1.6+g&counted=30+m&form.mark=once").status, 303);
    let page = bench.get("/log").body;
    assert_eq!(page.matches("/log/fix/").count(), 1, "{page}");
    assert!(page.contains("1.6 g") && page.contains("What it teaches the plan"));
    let wrong = bench.post("/log/add/skein", "bobbin=1&mass=1.6+m");
    assert_eq!(wrong.status, 422);
    assert!(wrong.body.contains("role=\"alert\"") && wrong.body.contains("value=\"1.6 m\""), "{}", wrong.body);
    assert_eq!(bench.post("/log/fix/1", "bobbin=1&mass=1.7+g&counted=30+m").status, 303);
    let page = bench.get("/log").body;
    assert!(page.contains("1.7 g") && page.contains("corrected") && !page.contains("1.6 g"), "{page}");
    // the plan rests on it, and says so, until it is left aside
    assert!(bench.get("/plan.json").body.contains("\"measured\""));
    assert_eq!(bench.post("/log/use", "with_log=false").status, 303);
    assert!(!bench.get("/plan.json").body.contains("\"how\":\"measured\""));
    assert_eq!(bench.post("/log/undo", "").status, 303);
    assert!(bench.get("/log").body.contains("1.6 g"));
    assert_eq!(bench.get("/log.csv").status, 200);
    assert_eq!(bench.get("/cards.pdf").status, 200);
}

#[test]
fn a_bobbin_weighed_full_is_written_down_without_itself() {
    let bench = Bench::over("tern-bay-towel.toml");
    assert!(!bench.get("/bench/weighing").body.contains("Weighed full"), "this plan knows no empty bobbin");
    assert_eq!(bench.post("/edit", "key=spinner.bobbin.tare&value=38+g&part=spinner").status, 303);
    assert!(bench.get("/bench/weighing").body.contains("38 g"));
    let weigh = |form: &str| bench.post("/bench/weighing", form).status;
    assert_eq!(weigh("bobbin=1&mass=112.5+g&counted=900+m&form.full=yes"), 303);
    assert_eq!(weigh("bobbin=2&mass=74.5+g&counted=900+m"), 303);
    let log = bench.get("/log.csv").body;
    assert_eq!(log.matches("74.5").count(), 2, "{log}");
    assert_eq!(weigh("bobbin=3&mass=20+g&counted=900+m&form.full=yes"), 422, "lighter than empty");
}

/// The program beside others, all day: with the pictures of the print made and gone again it holds no more than 80 MB.
#[cfg(target_os = "linux")]
#[test]
fn large_buffers_are_handed_back() {
    use std::io::BufRead;
    use std::process::{Command, Stdio};
    let bench = Bench::over("tern-bay-tee.toml");
    let files = bench.plan.with_file_name("files");
    std::fs::create_dir_all(&files).expect("a folder");
    for file in std::fs::read_dir(root().join("plans/files")).expect("its files").flatten() {
        std::fs::copy(file.path(), files.join(file.file_name())).expect("a copy");
    }
    let mut program = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .arg("bench")
        .arg(&bench.plan)
        .args(["--port", "0", "--no-open"])
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut line = String::new();
    std::io::BufReader::new(program.stdout.take().expect("words")).read_line(&mut line).expect("its address");
    let address = line.split('/').find(|part| part.contains(':') && part.starts_with("127")).expect("an address");
    let own = Bench { address: address.parse().expect("an address"), ..bench };
    for path in ["/drawing/cloth", "/drawing/film", "/drawing/preview"] {
        assert_eq!(own.get(path).status, 200, "{path}");
    }
    let status = std::fs::read_to_string(format!("/proc/{}/status", program.id())).expect("its status");
    program.kill().expect("it ends");
    program.wait().expect("it ended");
    let held = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("what it holds");
    let held: u64 = held.trim().trim_end_matches(" kB").parse().expect("a number");
    assert!(held < 80_000, "{held} kB");
}
