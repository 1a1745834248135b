//! Ellwand's HTTP server: the acts of the contract, each a thin adapter to the book.
#![warn(missing_docs)]

mod act;
pub mod command;
mod compress;
pub mod config;
mod connections;
mod error;
mod health;
mod input;
mod limit;
mod local;
mod metrics;
pub mod openapi;
mod picture;
pub mod router;
mod running;
mod sign_in;
mod telemetry;
mod version;

pub use config::Config;
pub use running::{Running, Stop, serve, spawn};

use actix_web::{
    App, Error,
    body::MessageBody,
    dev::{ServiceFactory, ServiceRequest, ServiceResponse},
    http::header::{CACHE_CONTROL, X_CONTENT_TYPE_OPTIONS},
    middleware::{DefaultHeaders, from_fn},
    web,
};
use ellwand_service::Book;
use metrics::Metrics;
use sign_in::Door;
use std::sync::atomic::AtomicBool;

/// What every request handler may use.
pub struct State {
    book: Book,
    body_limit: usize,
    door: Door,
    metrics: Metrics,
    /// Set when the server is stopping: nobody waits for news any more.
    stopping: AtomicBool,
}

impl State {
    /// A state on this book, with the limits of `config`.
    #[must_use]
    pub fn new(book: Book, config: &Config) -> web::Data<Self> {
        let door = Door::new(config);
        web::Data::new(Self {
            book,
            body_limit: config.body_limit,
            door,
            metrics: Metrics::new(),
            stopping: AtomicBool::new(false),
        })
    }
}

/// The whole application, as served and as tests drive it in process.
pub fn app(
    state: web::Data<State>,
) -> App<
    impl ServiceFactory<
        ServiceRequest,
        Config = (),
        Response = ServiceResponse<impl MessageBody>,
        Error = Error,
        InitError = (),
    >,
> {
    App::new()
        .app_data(state)
        .configure(router::configure)
        .default_service(web::to(error::no_such_route))
        .wrap(from_fn(compress::large_answers))
        .wrap(
            DefaultHeaders::new()
                .add((CACHE_CONTROL, "no-store"))
                .add((X_CONTENT_TYPE_OPTIONS, "nosniff")),
        )
        .wrap(from_fn(local::only_this_machine))
        .wrap(from_fn(connections::close_strangers))
        .wrap(from_fn(telemetry::observe))
}
