//! How many connections strangers may hold, so that whoever is signed in always finds one.
//!
//! A connection is a stranger's until a request on it has signed in. Strangers together hold three quarters at most, one
//! address an eighth, and half where someone has signed in before; what is beyond is closed at once. A stranger's
//! connection is closed with its answer, and its requests end before their bodies are read.

use crate::{Config, State, sign_in::network};
use actix_tls::accept::rustls_0_23::TlsStream;
use actix_web::{
    Error, HttpRequest,
    body::MessageBody,
    dev::{Extensions, ServiceRequest, ServiceResponse},
    http::ConnectionType,
    middleware::Next,
    rt::net::TcpStream,
    web::Data,
};
use socket2::SockRef;
use std::{
    any::Any,
    collections::{HashMap, HashSet},
    net::{IpAddr, Shutdown},
    sync::{
        Arc, Mutex, MutexGuard, PoisonError,
        atomic::{AtomicBool, Ordering},
    },
};

/// Addresses that are remembered for a good sign-in.
const MOST_KNOWN: usize = 10_000;

/// Shares of the connections.
#[derive(Debug)]
pub(crate) struct Connections {
    all_strangers: usize,
    one_address: usize,
    known_address: usize,
    held: Mutex<Held>,
}

#[derive(Debug, Default)]
struct Held {
    /// Strangers' connections by address.
    by_address: HashMap<IpAddr, usize>,
    /// Those of them from addresses where nobody has signed in.
    unknown: usize,
    /// Addresses where someone has signed in, in this process's life.
    known: HashSet<IpAddr>,
}

impl Connections {
    /// The shares of these settings; none where all are known, or where all come from a proxy's address.
    pub(crate) fn new(config: &Config) -> Option<Arc<Self>> {
        if config.open || config.behind_proxy {
            return None;
        }
        Some(Arc::new(Self::of(config.max_connections)))
    }

    fn of(most: usize) -> Self {
        Self {
            all_strangers: (most * 3 / 4).max(1),
            one_address: (most / 8).max(1),
            known_address: (most / 2).max(1),
            held: Mutex::default(),
        }
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        self.held.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Counts a new connection; none beyond the shares.
    fn enter(self: &Arc<Self>, address: IpAddr) -> Option<Connection> {
        let mut held = self.held();
        let known = held.known.contains(&address);
        let most = if known {
            self.known_address
        } else {
            self.one_address
        };
        let here = held.by_address.get(&address).copied().unwrap_or_default();
        if here >= most || (!known && held.unknown >= self.all_strangers) {
            return None;
        }
        held.by_address.insert(address, here + 1);
        held.unknown += usize::from(!known);
        Some(Connection {
            shares: Arc::clone(self),
            address,
            known,
            signed_in: AtomicBool::new(false),
        })
    }

    fn leave(&self, connection: &Connection) {
        let mut held = self.held();
        match held.by_address.get_mut(&connection.address) {
            Some(count) if *count > 1 => *count -= 1,
            _ => {
                held.by_address.remove(&connection.address);
            }
        }
        held.unknown = held.unknown.saturating_sub(usize::from(!connection.known));
    }
}

/// A connection that is counted as long as it is a stranger's.
#[derive(Debug)]
pub(crate) struct Connection {
    shares: Arc<Connections>,
    address: IpAddr,
    /// Whether its address was known when it came.
    known: bool,
    signed_in: AtomicBool,
}

impl Connection {
    /// It is no stranger's any more.
    fn sign_in(&self) {
        if self.signed_in.swap(true, Ordering::Relaxed) {
            return;
        }
        self.shares.leave(self);
        let mut held = self.shares.held();
        if held.known.len() >= MOST_KNOWN {
            held.known.clear();
        }
        held.known.insert(self.address);
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        if !self.signed_in.load(Ordering::Relaxed) {
            self.shares.leave(self);
        }
    }
}

/// Notes that the request's connection is held by someone signed in.
pub(crate) fn signed_in(request: &HttpRequest) {
    if let Some(connection) = request.conn_data::<Connection>() {
        connection.sign_in();
    }
}

/// Takes a new connection, or closes it.
pub(crate) fn take(shares: &Arc<Connections>, stream: &dyn Any, data: &mut Extensions) {
    let plain = stream.downcast_ref::<TcpStream>();
    let Some(tcp) = plain.or_else(|| {
        stream
            .downcast_ref::<TlsStream<TcpStream>>()
            .map(|tls| tls.get_ref().0)
    }) else {
        return;
    };
    let Ok(peer) = tcp.peer_addr() else { return };
    match shares.enter(network(peer.ip())) {
        Some(connection) => {
            data.insert(connection);
        }
        // Its other end may be gone already.
        None => drop(SockRef::from(tcp).shutdown(Shutdown::Both)),
    }
}

/// Closes a stranger's connection with the answer: it is not kept open for more.
pub(crate) async fn close_strangers(
    request: ServiceRequest,
    next: Next<impl MessageBody>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let mut response = next.call(request).await?;
    let request = response.request();
    let open = request
        .app_data::<Data<State>>()
        .is_none_or(|state| state.door.is_open());
    let stranger = request
        .conn_data::<Connection>()
        .is_some_and(|connection| !connection.signed_in.load(Ordering::Relaxed));
    if stranger && !open {
        response
            .response_mut()
            .head_mut()
            .set_connection_type(ConnectionType::Close);
    }
    Ok(response)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn address(last: u8) -> IpAddr {
        [192, 0, 2, last].into()
    }

    #[test]
    fn one_address_and_all_strangers_have_their_shares() {
        let shares = Arc::new(Connections::of(16));
        let mut strangers: Vec<_> = (0..2).filter_map(|_| shares.enter(address(1))).collect();
        assert_eq!(strangers.len(), 2);
        assert!(shares.enter(address(1)).is_none(), "an eighth of 16");
        strangers.extend(
            (2..7)
                .flat_map(|last| [shares.enter(address(last)), shares.enter(address(last))])
                .flatten(),
        );
        assert_eq!(strangers.len(), 12);
        assert!(shares.enter(address(9)).is_none(), "three quarters of 16");
        strangers.pop();
        let owner = shares.enter(address(9)).expect("the place that was left");
        owner.sign_in();
        // Whoever has signed in is counted no more, and the address is known.
        strangers.extend(shares.enter(address(10)));
        assert!(shares.enter(address(11)).is_none());
        let more: Vec<_> = (0..8).filter_map(|_| shares.enter(address(9))).collect();
        assert_eq!(more.len(), 8, "half of 16");
        assert!(shares.enter(address(9)).is_none());
        drop((strangers, more, owner));
        let held = shares.held();
        assert_eq!((held.unknown, held.by_address.len()), (0, 0));
    }
}
