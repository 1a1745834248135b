//! Who asks: the holder of a token, or on an open server whoever its header names.

use crate::{Config, State, connections, limit::Limit};
use actix_web::{
    HttpMessage, HttpRequest,
    http::header::{AUTHORIZATION, HeaderName},
    web::{self, Data},
};
use ellwand_contract::{Outcome, Problem, ProblemType, Sending, people::GetSelf};
use ellwand_service::{Caller, Perform, Secret};
use std::{
    collections::HashMap,
    net::{IpAddr, Ipv6Addr},
    sync::{Mutex, MutexGuard, PoisonError},
    time::Duration,
};
use tokio::sync::Semaphore;

/// Who books on an open server.
pub(crate) const CALLER: HeaderName = HeaderName::from_static("ellwand-caller");
/// Who books without the header.
const OWNER: &str = "owner";
/// Longest name of a caller, in bytes.
const CALLER_MAX: usize = 100;
/// Where a proxy names the client.
const FORWARDED: &str = "x-forwarded-for";
/// Good tokens that are remembered.
const MOST_GOOD: usize = 10_000;
/// Tokens that are looked up at a time before their requests are read; more wait, and leave the threads to those signed in.
const LOOKUPS: usize = 4;

/// How people sign in, and how often.
#[derive(Debug)]
pub(crate) struct Door {
    open: bool,
    behind_proxy: bool,
    /// Failed sign-ins by address.
    failures: Limit<IpAddr>,
    /// Requests by the hash of their token.
    requests: Limit<String>,
    /// Holders, by the hashes of tokens that were good in this process's life, whose requests are read at once. Whether they
    /// still are good is asked at every request.
    good: Mutex<HashMap<String, String>>,
    lookups: Semaphore,
}

/// Whose token a request carries, for the log.
#[derive(Debug, Clone)]
pub(crate) struct Person(pub(crate) String);

/// Someone who may be asked for.
pub(crate) enum Who {
    /// On an open server.
    Known(Caller),
    /// Of a token, from this address.
    Holder(Secret, Option<IpAddr>),
}

impl Door {
    pub(crate) fn new(config: &Config) -> Self {
        Self {
            open: config.open,
            behind_proxy: config.behind_proxy,
            failures: Limit::per_minute(config.failures_per_minute),
            requests: Limit::per_minute(config.requests_per_minute),
            good: Mutex::default(),
            lookups: Semaphore::new(LOOKUPS),
        }
    }

    /// True when no token is needed.
    pub(crate) fn is_open(&self) -> bool {
        self.open
    }

    fn good(&self) -> MutexGuard<'_, HashMap<String, String>> {
        self.good.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Who holds a token, where it was good before.
    fn holder(&self, hash: &str) -> Option<Person> {
        self.good().get(hash).cloned().map(Person)
    }

    /// Notes what became of a sign-in. A token is judged before the failures at its address are: whoever holds a good one
    /// is not shut out by them.
    fn noted(&self, secret: &Secret, address: Option<IpAddr>, problem: Problem) -> Box<Problem> {
        if problem.kind != ProblemType::NotSignedIn {
            return problem.into();
        }
        self.good().remove(&secret.hash());
        self.failed(address, problem)
    }

    fn remember(&self, secret: &Secret, person: String) {
        let (mut good, hash) = (self.good(), secret.hash());
        if good.len() >= MOST_GOOD && !good.contains_key(&hash) {
            good.clear();
        }
        good.insert(hash, person);
    }

    /// Counts a failed sign-in; beyond the limit the client has to wait.
    fn failed(&self, address: Option<IpAddr>, problem: Problem) -> Box<Problem> {
        match address.map_or(Ok(()), |address| self.failures.count(&address)) {
            Ok(()) => problem.into(),
            Err(wait) => too_many("sign-ins from this address that failed", wait),
        }
    }

    /// The client's address: the connection's, or behind a proxy the one that the proxy itself wrote, which is the last.
    pub(crate) fn address(&self, request: &HttpRequest) -> Option<IpAddr> {
        let peer = request.peer_addr().map(|address| network(address.ip()));
        if !self.behind_proxy {
            return peer;
        }
        let named = request
            .headers()
            .get_all(FORWARDED)
            .last()
            .and_then(|value| value.to_str().ok());
        let last = named
            .and_then(|list| list.rsplit(',').next())
            .map(str::trim);
        last.and_then(|text| text.parse().ok())
            .map(network)
            .or(peer)
    }
}

/// Finds out who asks, before anything else of the request is read.
///
/// # Errors
/// [`ProblemType::NotSignedIn`] without a good token, [`ProblemType::TooMany`] beyond a limit.
pub(crate) async fn who(request: &HttpRequest, state: &Data<State>) -> Result<Who, Box<Problem>> {
    let door = &state.door;
    if door.open {
        return Ok(Who::Known(caller(request)?));
    }
    let address = door.address(request);
    let Some(secret) = bearer(request) else {
        let detail = match request.headers().get(AUTHORIZATION) {
            None => "this server needs a token, and none was sent",
            Some(_) => "what was sent is not a token of this server",
        };
        let problem = Problem::new(ProblemType::NotSignedIn, detail)
            .hint("sign in with ellwand login URL, or send the header Authorization: Bearer TOKEN");
        return Err(door.failed(address, problem));
    };
    let (mut holder, hash) = (door.holder(&secret.hash()), secret.hash());
    let who = Who::Holder(secret, address);
    if holder.is_none() {
        who.check(state).await?;
        holder = door.holder(&hash);
    }
    if let Some(holder) = holder {
        request.extensions_mut().insert(holder);
    }
    door.requests
        .count(&hash)
        .map_err(|wait| too_many("requests of this token", wait))?;
    connections::signed_in(request);
    // Of no use where a token says who asks, but what is sent is judged all the same.
    caller(request)?;
    Ok(who)
}

impl Who {
    /// Looks the token up, without an act.
    ///
    /// # Errors
    /// A failed sign-in, which is counted.
    pub(crate) async fn check(&self, state: &Data<State>) -> Result<(), Box<Problem>> {
        let Self::Holder(secret, address) = self else {
            return Ok(());
        };
        let gone = |_| Problem::new(ProblemType::Internal, "the threads are gone");
        // The semaphore is never closed.
        let _turn = state.door.lookups.acquire().await;
        let (shared, token) = (state.clone(), secret.clone());
        let done = web::block(move || shared.book.call_signed(&token, &GetSelf {}))
            .await
            .map_err(gone)?;
        match done {
            Ok(signed) => {
                state.door.remember(secret, signed.answer.person);
                Ok(())
            }
            Err(problem) => Err(state.door.noted(secret, *address, problem)),
        }
    }

    /// Performs an act in their name.
    ///
    /// # Errors
    /// The act's own; a failed sign-in is noted.
    pub(crate) fn call<A: Perform>(
        &self,
        act: &A,
        sending: Sending,
        state: &State,
    ) -> Result<Outcome<A::Answer>, Box<Problem>> {
        match self {
            Self::Known(caller) => Ok(state.book.send(caller, act, sending)?),
            Self::Holder(secret, address) => state
                .book
                .send_signed(secret, act, sending)
                .map_err(|problem| state.door.noted(secret, *address, problem)),
        }
    }
}

/// The token of `Authorization: Bearer …`; the scheme's case does not matter (RFC 9110, section 11.1).
fn bearer(request: &HttpRequest) -> Option<Secret> {
    let value = request.headers().get(AUTHORIZATION)?.to_str().ok()?;
    let (scheme, token) = value.split_once(' ')?;
    scheme
        .eq_ignore_ascii_case("bearer")
        .then(|| Secret::parse(token.trim()))?
}

/// What one client holds: an IPv4 address, but of IPv6 a whole /64 (RFC 6177), in which it may choose any.
pub(crate) fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V4(address) => address.into(),
        IpAddr::V6(address) => Ipv6Addr::from_bits(address.to_bits() & (u128::MAX << 64)).into(),
    }
}

fn too_many(what: &str, wait: Duration) -> Box<Problem> {
    let seconds = wait.as_secs().saturating_add(1);
    Problem::new(
        ProblemType::TooMany,
        format!("there were too many {what} in a minute"),
    )
    .hint(format!("try again in {seconds} s"))
    .with("retry_after_s", seconds)
    .into()
}

fn caller(request: &HttpRequest) -> Result<Caller, Box<Problem>> {
    let Some(value) = request.headers().get(CALLER) else {
        return Ok(Caller::owner(OWNER));
    };
    let name = std::str::from_utf8(value.as_bytes()).ok().map(str::trim);
    let accepted = |name: &&str| {
        !name.is_empty() && name.len() <= CALLER_MAX && !name.chars().any(char::is_control)
    };
    let name = name.filter(accepted).ok_or_else(|| {
        let detail =
            format!("the header {CALLER} is not a name of 1 to {CALLER_MAX} bytes in UTF-8");
        Problem::new(ProblemType::InvalidValue, detail)
            .field(CALLER.as_str())
            .hint("leave it out to book as owner")
    })?;
    Ok(Caller::owner(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_network_of_ipv6_is_one_client() {
        let of = |text: &str| network(text.parse().expect("an address"));
        assert_eq!(of("2001:db8::1"), of("2001:db8::ffff:1"));
        assert_ne!(of("2001:db8::1"), of("2001:db8:0:1::1"));
        assert_ne!(of("192.0.2.1"), of("192.0.2.2"));
        assert_eq!(of("::ffff:192.0.2.1"), of("192.0.2.1"));
    }
}
