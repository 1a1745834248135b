//! Who asks: the holder of a token, or on an open server whoever its header names.

use crate::{Config, State, windows::Windows};
use actix_web::{
    HttpRequest,
    http::header::{AUTHORIZATION, HeaderName},
};
use ellwand_contract::{Outcome, Problem, ProblemType};
use ellwand_service::{Book, Caller, Perform, Secret};
use std::{
    collections::HashSet,
    net::{IpAddr, Ipv6Addr},
    sync::{Mutex, MutexGuard, PoisonError},
    time::{Duration, Instant},
};

/// Who books on an open server.
pub(crate) const CALLER: HeaderName = HeaderName::from_static("ellwand-caller");
/// Who books when the header says nothing.
const OWNER: &str = "owner";
/// Longest name of a caller, in bytes.
const CALLER_MAX: usize = 100;
/// Where a proxy names the client.
const FORWARDED: &str = "x-forwarded-for";
/// Good tokens that are remembered for it.
const MOST_GOOD: usize = 10_000;

/// How people sign in, and how often.
#[derive(Debug)]
pub(crate) struct Door {
    open: bool,
    behind_proxy: bool,
    /// Failed sign-ins by address.
    failures: Windows<IpAddr>,
    /// Requests by the hash of their token.
    requests: Windows<String>,
    /// Hashes of tokens that were good in this process's life: their holders are not shut out by the failures of others
    /// at their address. Whether they still are good is asked at every request.
    good: Mutex<HashSet<String>>,
}

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
            failures: Windows::new(config.failures_per_minute),
            requests: Windows::new(config.requests_per_minute),
            good: Mutex::default(),
        }
    }

    /// True when nobody is asked for a token.
    pub(crate) fn is_open(&self) -> bool {
        self.open
    }

    /// Reads who asks, before anything else of the request is read.
    ///
    /// # Errors
    /// [`ProblemType::NotSignedIn`] without a token, [`ProblemType::TooMany`] beyond a limit.
    pub(crate) fn who(&self, request: &HttpRequest) -> Result<Who, Box<Problem>> {
        // Of no use where a token says who asks, but what is sent is judged all the same.
        let named = caller(request)?;
        if self.open {
            return Ok(Who::Known(named));
        }
        let (address, now) = (self.address(request), Instant::now());
        let secret = bearer(request);
        let known = secret.as_ref().is_some_and(|secret| self.good().contains(&secret.hash()));
        if let Some(wait) = address.filter(|_| !known).and_then(|address| self.failures.full(&address, now)) {
            return Err(too_many("sign-ins from this address that failed", wait));
        }
        let Some(secret) = secret else {
            self.failed(address);
            let detail = match request.headers().get(AUTHORIZATION) {
                None => "this server asks for a token, and none was sent",
                Some(_) => "what was sent is not a token of this server",
            };
            return Err(Problem::new(ProblemType::NotSignedIn, detail)
                .hint("sign in with ellwand login URL, or send the header Authorization: Bearer TOKEN")
                .into());
        };
        self.requests.count(secret.hash(), now).map_err(|wait| too_many("requests of this token", wait))?;
        Ok(Who::Holder(secret, address))
    }

    fn good(&self) -> MutexGuard<'_, HashSet<String>> {
        self.good.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Notes what became of a sign-in.
    fn noted(&self, secret: &Secret, address: Option<IpAddr>, problem: Option<&Problem>) {
        let refused = problem.is_some_and(|problem| problem.kind == ProblemType::NotSignedIn);
        let mut good = self.good();
        if refused {
            good.remove(&secret.hash());
            drop(good);
            self.failed(address);
        } else if problem.is_none() && !good.contains(&secret.hash()) {
            if good.len() >= MOST_GOOD {
                good.clear();
            }
            good.insert(secret.hash());
        }
    }

    /// Notes a failed sign-in.
    fn failed(&self, address: Option<IpAddr>) {
        if let Some(address) = address {
            // A full window is asked for before the next request.
            let _ = self.failures.count(address, Instant::now());
        }
    }

    /// The client's address: the connection's, or behind a proxy the one that the proxy itself wrote, which is the last.
    pub(crate) fn address(&self, request: &HttpRequest) -> Option<IpAddr> {
        let peer = request.peer_addr().map(|address| network(address.ip()));
        if !self.behind_proxy {
            return peer;
        }
        let named = request.headers().get_all(FORWARDED).last().and_then(|value| value.to_str().ok());
        let last = named.and_then(|list| list.rsplit(',').next()).map(str::trim);
        last.and_then(|text| text.parse().ok()).map(network).or(peer)
    }
}

impl Who {
    /// Performs an act in their name.
    ///
    /// # Errors
    /// The act's own; a failed sign-in is noted.
    pub(crate) fn call<A: Perform>(
        &self,
        book: &Book,
        act: &A,
        state: &State,
    ) -> Result<Outcome<A::Answer>, Box<Problem>> {
        match self {
            Self::Known(caller) => Ok(book.call(caller, act)?),
            Self::Holder(secret, address) => {
                let done = book.call_signed(secret, act);
                state.door.noted(secret, *address, done.as_ref().err());
                Ok(done?)
            }
        }
    }
}

/// The token of `Authorization: Bearer …`; the scheme's case does not matter (RFC 9110, section 11.1).
fn bearer(request: &HttpRequest) -> Option<Secret> {
    let value = request.headers().get(AUTHORIZATION)?.to_str().ok()?;
    let (scheme, token) = value.split_once(' ')?;
    scheme.eq_ignore_ascii_case("bearer").then(|| Secret::parse(token.trim()))?
}

/// What one client holds: an IPv4 address, but of IPv6 a whole /64 (RFC 6177), in which it may choose any.
fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V4(address) => address.into(),
        IpAddr::V6(address) => Ipv6Addr::from_bits(address.to_bits() & (u128::MAX << 64)).into(),
    }
}

fn too_many(what: &str, wait: Duration) -> Box<Problem> {
    let seconds = wait.as_secs().saturating_add(1);
    Problem::new(ProblemType::TooMany, format!("there were too many {what} in a minute"))
        .hint(format!("try again in {seconds} s"))
        .with("retry_after_s", seconds)
        .into()
}

fn caller(request: &HttpRequest) -> Result<Caller, Box<Problem>> {
    let Some(value) = request.headers().get(CALLER) else { return Ok(Caller::owner(OWNER)) };
    let name = std::str::from_utf8(value.as_bytes()).ok().map(str::trim);
    let accepted =
        |name: &&str| !name.is_empty() && name.len() <= CALLER_MAX && !name.chars().any(char::is_control);
    let name = name.filter(accepted).ok_or_else(|| {
        let detail = format!("the header {CALLER} is not a name of 1 to {CALLER_MAX} bytes in UTF-8");
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
