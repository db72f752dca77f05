//! The workbench: the only layer that knows HTTP. Serves on loopback; every page is whole without JavaScript; the plan's file on disk is the
//! truth. Screens compute nothing: they read the outcome.

mod bench;
mod guard;
mod layout;
mod parts;
mod screens;
mod state;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use state::Shared;
use std::net::SocketAddr;
use std::path::Path;
use std::sync::Arc;

/// Largest body that is read: a plan and a little more.
const LARGEST_BODY: usize = 2 << 20;

/// The routes of a workbench over one plan, served at `port` of loopback.
///
/// # Errors
/// Why the plan cannot be read, for a person.
pub fn router(plan: &Path, port: u16) -> Result<Router, String> {
    let state = Arc::new(Shared::open(plan)?);
    Ok(Router::new()
        .route("/", get(screens::overview))
        .route("/part/{name}", get(screens::part))
        .route("/explain/{id}", get(screens::explain))
        .route("/formulas", get(screens::formulas))
        .route("/formulas/{name}", get(screens::formula))
        .route("/drawing/{file}", get(screens::drawing))
        .route("/edit", post(screens::edit))
        .route("/mend", post(screens::mend))
        .route("/undo", post(screens::undo))
        .route("/redo", post(screens::redo))
        .route("/bench", get(bench::index))
        .route("/bench/{step}", get(bench::step).post(bench::moved))
        .route("/plan.json", get(screens::json))
        .route("/style.css", get(layout::style))
        .route("/workbench.js", get(layout::script))
        .fallback(screens::nowhere)
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .layer(middleware::from_fn_with_state(port, guard::guard))
        .with_state(state))
}

/// Serves a plan on loopback until it is told to stop; `ready` is called with the address.
///
/// # Errors
/// Why it cannot, for a person.
pub fn serve(plan: &Path, port: u16, ready: impl FnOnce(SocketAddr)) -> Result<(), String> {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|fault| fault.to_string())?;
    runtime.block_on(async {
        let listener = tokio::net::TcpListener::bind(("127.0.0.1", port))
            .await
            .map_err(|fault| format!("port {port} of this machine: {fault}"))?;
        let address = listener.local_addr().map_err(|fault| fault.to_string())?;
        let app = router(plan, address.port())?;
        ready(address);
        let stop = async {
            let _ = tokio::signal::ctrl_c().await;
        };
        axum::serve(listener, app).with_graceful_shutdown(stop).await.map_err(|fault| fault.to_string())
    })
}
