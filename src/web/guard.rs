//! What every request must pass: it names this machine as its host, another device is one that was let in, a change comes from our own page,
//! and every answer says how little a page of ours may load.

use super::state::Shared;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use std::net::SocketAddr;
use std::sync::Arc;

/// Nothing from elsewhere, no inline script or style, no frame, no plug-in.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; \
                      media-src 'self' blob:; form-action 'self'; frame-ancestors 'none'; base-uri 'none'";

/// What a device that is not inside may fetch: the door, how it looks, and the letters it is written in.
const OUTSIDE: &[&str] = &["/join", "/style.css", "/workbench.js"];
/// What there is before there is a plan.
const BEFORE: &[&str] = &["/new", "/style.css", "/workbench.js", "/events", "/join", "/phone"];

/// Turns away what does not come from this machine's own pages or a device that was let in, and marks what does.
pub async fn guard(
    State(shared): State<Arc<Shared>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    let mut answer = match turned_away(&shared, peer, &request) {
        Some(answer) => answer,
        None => next.run(request).await,
    };
    let headers = answer.headers_mut();
    let mut put = |name: HeaderName, value| {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    };
    put(header::CONTENT_SECURITY_POLICY, POLICY);
    put(header::X_CONTENT_TYPE_OPTIONS, "nosniff");
    put(header::REFERRER_POLICY, "same-origin");
    put(header::CACHE_CONTROL, "no-store");
    answer
}

fn turned_away(shared: &Shared, peer: SocketAddr, request: &Request) -> Option<Response> {
    let (doors, path) = (&shared.doors, request.uri().path());
    let host = text(request.headers(), header::HOST);
    let own = doors.is_own(host) && peer.ip().is_loopback();
    if !own && !doors.is_lan(host) {
        let words = "This workbench answers only by the name it was started on.\n";
        return Some((StatusCode::MISDIRECTED_REQUEST, words).into_response());
    }
    if !own {
        if !doors.may_ask(peer.ip()) {
            return Some((StatusCode::TOO_MANY_REQUESTS, "Too fast. Wait a moment.\n").into_response());
        }
        if !OUTSIDE.contains(&path)
            && !path.starts_with("/font/")
            && !doors.knows(text(request.headers(), header::COOKIE))
        {
            let words = "This device is not at the bench yet: scan the code on the other screen.\n";
            return Some((StatusCode::UNAUTHORIZED, words).into_response());
        }
        // whom to let in is decided at the machine itself
        if path == "/phone" {
            return Some((StatusCode::FORBIDDEN, "Invite from the machine the workbench runs on.\n").into_response());
        }
    }
    let changes = request.method() != Method::GET && request.method() != Method::HEAD;
    // a browser names the page a form was sent from; a form without that name is not ours
    if changes && text(request.headers(), header::ORIGIN).strip_prefix("http://") != Some(host) {
        return Some((StatusCode::FORBIDDEN, "A change must come from the workbench's own page.\n").into_response());
    }
    let begun = shared.path().is_some() || BEFORE.contains(&path) || path.starts_with("/font/");
    (!begun).then(|| Redirect::to("/new").into_response())
}

fn text(headers: &HeaderMap, name: HeaderName) -> &str {
    headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or("")
}
