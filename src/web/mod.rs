//! The workbench: the only layer that knows HTTP. Serves on loopback unless asked; every page is whole without JavaScript; the plan's file on
//! disk is the truth. Screens compute nothing: they read the outcome.

mod ahead;
mod bench;
mod begin;
mod change;
mod designs;
mod doors;
mod events;
mod guard;
mod handbook;
mod journal;
mod layout;
pub mod phone;
mod pictures;
mod screens;
mod state;
mod sure;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use doors::Doors;
use state::Shared;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Largest body that is read: a plan and a little more.
const LARGEST_BODY: usize = 2 << 20;

/// How a workbench is served.
#[derive(Clone, Debug, Default)]
pub struct Serving {
    /// The plan; none begins one by questions.
    pub plan: Option<PathBuf>,
    /// Where a new plan is written.
    pub folder: PathBuf,
    /// 0 takes a free one.
    pub port: u16,
    /// For other devices of the local network too, once they were let in.
    pub lan: bool,
    /// Names by which other devices reach this machine, the best first; its address is found where none is given.
    pub names: Vec<String>,
}

/// Where a workbench is to be found.
#[derive(Clone, Debug)]
pub struct Served {
    /// For this machine's own browser.
    pub address: SocketAddr,
    /// For a phone: an address that lets one device in.
    pub invitation: Option<String>,
}

fn router(shared: Arc<Shared>) -> Router {
    Router::new()
        .route("/", get(screens::overview))
        .route("/part/{name}", get(screens::part))
        .route("/explain/{id}", get(handbook::explain))
        .route("/formulas", get(handbook::formulas))
        .route("/formulas/{name}", get(handbook::formula))
        .route("/drawing/{file}", get(pictures::drawing))
        .route("/painted/{name}", get(pictures::paint))
        .route("/edit", post(change::edit))
        .route("/mend", post(change::mend))
        .route("/undo", post(change::undo))
        .route("/redo", post(change::redo))
        .route("/bench", get(bench::index))
        .route("/bench/spinning", get(bench::spinning))
        .route("/bench/weighing", get(bench::weighing).post(bench::weigh))
        .route("/bench/{step}", get(bench::step).post(bench::moved))
        .route("/log", get(journal::index))
        .route("/log/add/{kind}", get(journal::form).post(journal::add))
        .route("/log/fix/{number}", get(journal::fixing).post(journal::fix))
        .route("/log/undo", post(journal::undo))
        .route("/log/use", post(journal::use_log))
        .route("/log/import", post(journal::import))
        .route("/log.csv", get(journal::export))
        .route("/cards.pdf", get(journal::cards))
        .route("/sure", get(sure::sure))
        .route("/designs", get(designs::designs).post(designs::take))
        .route("/new", get(begin::ask).post(begin::answer))
        .route("/book.html", get(pictures::book))
        .route("/phone", get(phone::invite))
        .route("/join", get(phone::door).post(phone::join))
        .route("/plan.json", get(pictures::json))
        .route("/events", get(events::events))
        .route("/style.css", get(layout::style))
        .route("/font/{face}", get(layout::font))
        .route("/workbench.js", get(layout::script))
        .fallback(layout::nowhere)
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .layer(middleware::from_fn_with_state(Arc::clone(&shared), guard::guard))
        .with_state(shared)
}

/// Serves a workbench until it is told to stop; `ready` is called once it answers.
///
/// # Errors
/// Why it cannot, for a person.
pub fn serve(serving: &Serving, ready: impl FnOnce(&Served)) -> Result<(), String> {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|fault| fault.to_string())?;
    runtime.block_on(async {
        let all = if serving.lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
        let listener = tokio::net::TcpListener::bind((all, serving.port))
            .await
            .map_err(|fault| format!("port {} of this machine: {fault}", serving.port))?;
        let port = listener.local_addr().map_err(|fault| fault.to_string())?.port();
        let names = if serving.lan { named(&serving.names)? } else { Vec::new() };
        let doors = Doors::new(port, &names);
        let invitation = doors.invitation();
        let shared = Arc::new(Shared::open(serving.plan.as_deref(), &serving.folder, doors)?);
        let app = router(Arc::clone(&shared)).into_make_service_with_connect_info::<SocketAddr>();
        let watch = tokio::spawn(events::watch(Arc::clone(&shared)));
        ready(&Served { address: SocketAddr::from((Ipv4Addr::LOCALHOST, port)), invitation });
        let stop = async move {
            let _ = tokio::signal::ctrl_c().await;
            // an open stream would hold the program for ever
            shared.bell.send_replace(events::CLOSED);
        };
        let served = axum::serve(listener, app).with_graceful_shutdown(stop).await;
        watch.abort();
        served.map_err(|fault| fault.to_string())
    })
}

/// The names given, or this machine's address on the local network.
fn named(given: &[String]) -> Result<Vec<String>, String> {
    if !given.is_empty() {
        return Ok(given.to_vec());
    }
    match own_address() {
        Some(address) => Ok(vec![address.to_string()]),
        None => {
            Err("This machine is on no network that another device could reach it by; join one, or give a --name."
                .into())
        }
    }
}

/// The address from which this machine would speak to another; nothing is sent to find it.
fn own_address() -> Option<IpAddr> {
    let socket = std::net::UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    // an address set apart for documentation: no such machine exists, the way out to it does
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    let address = socket.local_addr().ok()?.ip();
    (!address.is_loopback() && !address.is_unspecified()).then_some(address)
}

/// A path's last word, for a heading.
fn file_name(path: &Path) -> String {
    path.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned())
}
