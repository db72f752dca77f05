//! A real browser, driven: a workbench as its own process, a window of a given size, what the console said, what an accessibility checker finds.
#![expect(clippy::disallowed_methods, reason = "the tests start programs, wait, and keep pictures")]

use crate::scene::root;
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A name that is this machine's, and that a browser takes for another's.
pub const NAME: &str = "bench.test";

pub const TAB: &str = "\u{E004}";
pub const ENTER: &str = "\u{E007}";
/// Presses of Tab in which everything of a page is reached.
const MOST_TABS: usize = 300;

/// What follows the word in the first line of a program's output that has it; none where the program ends without saying it.
fn line_after(child: &mut Child, word: &str) -> Option<String> {
    let output = child.stdout.take().expect("its output");
    let mut lines = BufReader::new(output).lines();
    let found =
        lines.by_ref().map_while(Result::ok).find_map(|line| line.split_once(word).map(|(_, rest)| rest.to_string()));
    // the rest is read away, or the program would wait for a reader
    std::thread::spawn(move || lines.for_each(drop));
    found
}

/// A driver and the port it took. Two that start at once may reach for the same port, and one of them ends.
fn driver() -> (Child, u16) {
    for _ in 0..5 {
        let driver = Command::new("chromedriver").arg("--port=0").stdout(Stdio::piped()).spawn();
        let mut driver = driver.expect("chromedriver, see check");
        if let Some(rest) = line_after(&mut driver, "started successfully on port ") {
            return (driver, rest.trim_end_matches('.').parse().expect("a port"));
        }
        let _ = driver.wait();
    }
    panic!("chromedriver does not start");
}

/// A workbench as a process of its own, so that it can be killed.
pub struct Workbench {
    child: Child,
    pub port: u16,
    pub folder: PathBuf,
}

impl Workbench {
    /// Over a plan of a folder, or over the folder alone.
    pub fn start(folder: &Path, plan: Option<&str>, more: &[&str]) -> Workbench {
        let mut command = Command::new(env!("CARGO_BIN_EXE_clothwright"));
        command.arg("bench").args(plan).args(["--port", "0", "--no-open"]).args(more).current_dir(folder);
        let mut child = command.stdout(Stdio::piped()).spawn().expect("the program starts");
        let rest = line_after(&mut child, "http://127.0.0.1:").expect("it says where it is");
        let port = rest.split('/').next().and_then(|port| port.parse().ok()).expect("a port");
        Workbench { child, port, folder: folder.to_path_buf() }
    }

    pub fn url(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }

    /// As a fall of the power would.
    pub fn kill(&mut self) {
        self.child.kill().expect("it is killed");
        self.child.wait().expect("it has ended");
    }

    pub fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.join(name)).expect("the plan")
    }
}

impl Drop for Workbench {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A folder with the shipped plans in it.
pub fn plans() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    copy(&root().join("plans"), folder.path());
    folder
}

fn copy(from: &Path, to: &Path) {
    for entry in std::fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry");
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            std::fs::create_dir_all(&target).expect("a folder");
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).expect("a copy");
        }
    }
}

/// A browser with its driver.
pub struct Browser {
    pub page: Client,
    driver: Child,
    port: u16,
    session: String,
    _profile: tempfile::TempDir,
}

impl Browser {
    /// A window of that size; a narrow one is a phone's.
    pub async fn open(width: u32, height: u32) -> Browser {
        let (driver, port) = driver();
        let profile = tempfile::tempdir().expect("a folder");
        let arguments = [
            "--headless".to_string(),
            "--no-sandbox".into(),
            "--disable-gpu".into(),
            "--disable-quic".into(),
            "--no-first-run".into(),
            "--disable-background-networking".into(),
            "--disable-component-update".into(),
            "--disable-sync".into(),
            format!("--host-resolver-rules=MAP {NAME} 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
            format!("--user-data-dir={}", profile.path().display()),
            format!("--window-size={width},{height}"),
        ];
        let wished = json!({
            "goog:chromeOptions": { "args": arguments },
            "goog:loggingPrefs": { "browser": "ALL" },
        });
        let wished: Capabilities = wished.as_object().expect("an object").clone();
        let page = ClientBuilder::new(HttpConnector::new())
            .capabilities(wished)
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .expect("a browser");
        let session = page.session_id().await.expect("a session").expect("a session");
        let browser = Browser { page, driver, port, session, _profile: profile };
        browser.size(width, height);
        browser
    }

    /// The page's own width and height, as a device of that size has it.
    pub fn size(&self, width: u32, height: u32) {
        let device = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.tools("Emulation.setDeviceMetricsOverride", &device);
    }

    /// Light or dark, as the reader's system prefers.
    pub fn dark(&self, dark: bool) {
        let value = if dark { "dark" } else { "light" };
        self.tools(
            "Emulation.setEmulatedMedia",
            &json!({ "features": [{ "name": "prefers-color-scheme", "value": value }] }),
        );
    }

    /// A command of the browser's own tools.
    pub fn tools(&self, command: &str, with: &Value) -> Value {
        self.ask("goog/cdp/execute", &json!({ "cmd": command, "params": with }))
    }

    fn ask(&self, what: &str, body: &Value) -> Value {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("the driver listens");
        let body = body.to_string();
        let request = format!(
            "POST /session/{}/{what} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\
             Connection: close\r\n\r\n{body}",
            self.session,
            self.port,
            body.len()
        );
        stream.write_all(request.as_bytes()).expect("sent");
        // the driver keeps the line open: what it says is as long as its head says
        let (mut reader, mut long) = (BufReader::new(stream), 0);
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).expect("a line of the head");
            if let Some(said) = line.to_lowercase().strip_prefix("content-length:") {
                long = said.trim().parse().expect("a length");
            }
            if line.trim().is_empty() {
                break;
            }
        }
        let mut body = vec![0; long];
        reader.read_exact(&mut body).expect("a body");
        let value: Value = serde_json::from_slice(&body).expect("JSON");
        value["value"].clone()
    }

    /// What the console was told since it was last asked, errors alone.
    pub fn complaints(&self) -> Vec<String> {
        let all = self.ask("se/log", &json!({ "type": "browser" }));
        let severe = |entry: &&Value| entry["level"] == "SEVERE";
        all.as_array().expect("a list").iter().filter(severe).map(|entry| entry["message"].to_string()).collect()
    }

    pub async fn go(&self, url: &str) {
        self.page.goto(url).await.unwrap_or_else(|why| panic!("{url}: {why}"));
    }

    /// The words of the first element that matches, once it is there.
    pub async fn words(&self, css: &str) -> String {
        let found = self.page.wait().at_most(Duration::from_secs(20)).for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|why| panic!("{css}: {why}")).text().await.expect("its words")
    }

    pub async fn click(&self, css: &str) {
        let found = self.page.wait().at_most(Duration::from_secs(20)).for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|why| panic!("{css}: {why}")).click().await.unwrap_or_else(|why| panic!("{css}: {why}"));
    }

    /// Waits until the first element that matches says what is asked.
    pub async fn until(&self, css: &str, is: impl Fn(&str) -> bool) -> String {
        let begun = Instant::now();
        loop {
            let words = match self.page.find(Locator::Css(css)).await {
                Ok(found) => found.text().await.unwrap_or_default(),
                Err(_) => String::new(),
            };
            if is(&words) {
                return words;
            }
            assert!(
                begun.elapsed() < Duration::from_secs(20),
                "{css} says `{words}`; the page is {:?}",
                self.page.source().await
            );
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// Keys pressed one after the other on what has the focus.
    pub async fn keys(&self, keys: &str) {
        let actions: Vec<Value> = keys
            .chars()
            .flat_map(|key| [json!({ "type": "keyDown", "value": key }), json!({ "type": "keyUp", "value": key })])
            .collect();
        self.ask("actions", &json!({ "actions": [{ "type": "key", "id": "keys", "actions": actions }] }));
    }

    /// Goes from field to field by the Tab key alone until the focus is on what is asked.
    pub async fn reach(&self, css: &str) {
        let there = format!("return document.activeElement?.matches({css:?}) ?? false");
        for _ in 0..MOST_TABS {
            if self.script(&there).await == json!(true) {
                return;
            }
            self.keys(TAB).await;
        }
        panic!(
            "{css} is not reached by the keyboard; the focus is on {:?}",
            self.script("return document.activeElement.outerHTML").await
        );
    }

    /// Goes there by the keyboard alone, and presses Enter.
    pub async fn press(&self, css: &str) {
        self.reach(css).await;
        self.keys(ENTER).await;
    }

    /// Waits until the drawings and pictures that come after the page are there.
    pub async fn drawn(&self) {
        let begun = Instant::now();
        let open = "const pictures = [...document.images]; pictures.forEach((one) => { one.loading = 'eager'; }); \
                    return document.querySelectorAll('[data-late]').length + pictures.filter((one) => !one.complete).length";
        while self.script(open).await != json!(0) {
            assert!(begun.elapsed() < Duration::from_secs(60), "a drawing does not come");
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// Milliseconds from asking for the page until something of it was seen.
    pub async fn first_paint(&self) -> f64 {
        let asked = "return performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null";
        let begun = Instant::now();
        loop {
            if let Some(ms) = self.script(asked).await.as_f64() {
                return ms;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "nothing was painted");
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
    }

    /// A value a script gives.
    pub async fn script(&self, script: &str) -> Value {
        self.page.execute(script, vec![]).await.unwrap_or_else(|why| panic!("{script}: {why}"))
    }

    /// Findings of the accessibility checker at the levels A and AA, each as a rule and the elements it found.
    pub async fn findings(&self) -> Vec<String> {
        let path = root().join("target/axe/node_modules/axe-core/axe.min.js");
        let checker = std::fs::read_to_string(&path)
            .unwrap_or_else(|why| panic!("{}: {why}; ./check --install puts it there", path.display()));
        self.page.execute(&checker, vec![]).await.expect("the checker loads");
        let run = "const done = arguments[arguments.length - 1]; \
                   axe.run({ exclude: [['svg.cw > *']] }, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }) \
                   .then((r) => done(r.violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + ' ' + (n.failureSummary ?? '')).join(' | '))), \
                   (e) => done([String(e)]))";
        let found = self.page.execute_async(run, vec![]).await.expect("the checker runs");
        found.as_array().expect("a list").iter().map(|one| one.as_str().unwrap_or_default().to_string()).collect()
    }

    /// Keeps a picture of the whole page for people to look at.
    pub async fn picture(&self, name: &str) {
        let shot = self.tools("Page.captureScreenshot", &json!({ "captureBeyondViewport": true }));
        let bytes =
            base64::Engine::decode(&base64::engine::general_purpose::STANDARD, shot["data"].as_str().expect("data"));
        keep(&format!("{name}.png"), &bytes.expect("base64"));
    }

    /// Ends it; the console must have had nothing to complain of.
    pub async fn close(mut self) {
        let complaints = self.complaints();
        assert!(complaints.is_empty(), "{complaints:#?}");
        let _ = self.page.clone().close().await;
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

/// Keeps a file among the pictures, for people to look at.
pub fn keep(name: &str, bytes: &[u8]) {
    let folder = root().join("target/screens");
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(folder.join(name), bytes).expect("written");
}

impl Drop for Browser {
    fn drop(&mut self) {
        // a test that failed leaves no browser behind: its driver ends it when the session is deleted
        if let Ok(mut stream) = TcpStream::connect(("127.0.0.1", self.port)) {
            let request =
                format!("DELETE /session/{} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n", self.session);
            let _ = stream.write_all(request.as_bytes());
            let _ = stream.read(&mut [0; 512]);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}
