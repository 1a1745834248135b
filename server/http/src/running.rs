//! Serving on a listener, in the foreground or on a thread of its own.

use crate::{
    Config, State, app,
    config::Tls,
    connections::{self, Connections},
};
use actix_web::{
    HttpServer,
    dev::{Server, ServerHandle},
    rt::System,
    web::Data,
};
use ellwand_service::Book;
use std::{
    io,
    net::{SocketAddr, TcpListener},
    sync::atomic::Ordering,
    thread::JoinHandle,
    time::Duration,
};

/// How long a client may take to send the head of a request.
const REQUEST_HEAD: Duration = Duration::from_secs(5);
/// How long an idle connection is kept.
const KEEP_ALIVE: Duration = Duration::from_secs(30);
/// How long a client may take to close its side.
const DISCONNECT: Duration = Duration::from_secs(2);
/// How long requests under way may go on after the server is stopped.
const SHUTDOWN_SECONDS: u64 = 10;
/// Acts under way at a time in each worker; more wait.
const BLOCKING_THREADS: usize = 16;

/// Makes a server on this listener; it answers once the returned future is polled, until it is stopped.
///
/// Signals are left alone: whoever runs the server decides what stops it.
///
/// # Errors
/// When the listener can be reached by others without tokens or TLS, the certificate cannot be used, or the listener
/// cannot.
pub fn serve(config: &Config, book: Book, listener: TcpListener) -> io::Result<(Server, Stop)> {
    config
        .check_listen(listener.local_addr()?)
        .map_err(io::Error::other)?;
    let tls = config
        .tls
        .as_ref()
        .map(Tls::load)
        .transpose()
        .map_err(io::Error::other)?;
    let state = State::new(book, config);
    let connections_per_worker = config.max_connections.div_ceil(config.workers).max(1);
    let shared = state.clone();
    let shares = Connections::new(config);
    let server = HttpServer::new(move || app(shared.clone()))
        .on_connect(move |stream, data| {
            if let Some(shares) = &shares {
                connections::take(shares, stream, data);
            }
        })
        .workers(config.workers)
        .max_connections(connections_per_worker)
        .worker_max_blocking_threads(BLOCKING_THREADS)
        .client_request_timeout(REQUEST_HEAD)
        .client_disconnect_timeout(DISCONNECT)
        .keep_alive(KEEP_ALIVE)
        .shutdown_timeout(SHUTDOWN_SECONDS)
        .disable_signals();
    let server = match tls {
        Some(tls) => server.listen_rustls_0_23(listener, tls)?,
        None => server.listen(listener)?,
    };
    let server = server.run();
    let stop = Stop {
        handle: server.handle(),
        state,
    };
    Ok((server, stop))
}

/// Stops a server.
#[derive(Clone)]
pub struct Stop {
    handle: ServerHandle,
    state: Data<State>,
}

impl std::fmt::Debug for Stop {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Stop").finish_non_exhaustive()
    }
}

impl Stop {
    /// Lets requests under way end, at most ten seconds long, then stops. The order is given by the call; the future only
    /// waits for the end.
    pub fn stop(&self) -> impl Future<Output = ()> + use<> {
        self.state.stopping.store(true, Ordering::Relaxed);
        self.handle.stop(true)
    }
}

/// A server on a thread of its own; it stops when dropped.
#[derive(Debug)]
pub struct Running {
    address: SocketAddr,
    stop: Stop,
    thread: Option<JoinHandle<io::Result<()>>>,
}

impl Running {
    /// Where it answers: `http://127.0.0.1:PORT`.
    #[must_use]
    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Address to listen on.
    #[must_use]
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Lets requests under way end, then stops.
    ///
    /// # Errors
    /// When the server had failed before.
    pub fn stop(mut self) -> io::Result<()> {
        self.join()
    }

    fn join(&mut self) -> io::Result<()> {
        let Some(thread) = self.thread.take() else {
            return Ok(());
        };
        // The future would only wait for its end, as `join` does.
        drop(self.stop.stop());
        thread
            .join()
            .unwrap_or_else(|_| Err(io::Error::other("the server's thread panicked")))
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        if let Err(error) = self.join() {
            tracing::error!(cause = %error, "the server ended with a failure");
        }
    }
}

/// Serves on a thread of its own.
///
/// # Errors
/// As [`serve`].
pub fn spawn(config: &Config, book: Book, listener: TcpListener) -> io::Result<Running> {
    let address = listener.local_addr()?;
    let (server, stop) = serve(config, book, listener)?;
    let thread = std::thread::Builder::new()
        .name("ellwand-server".to_owned())
        .spawn(move || System::new().block_on(server))?;
    Ok(Running {
        address,
        stop,
        thread: Some(thread),
    })
}
