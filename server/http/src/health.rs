//! Whether the server lives and whether it can do its work. Neither says which version runs.

use crate::{State, error, telemetry::RequestId};
use actix_web::{
    HttpRequest, HttpResponse,
    http::header::ContentType,
    web::{self, Data},
};
use ellwand_contract::{Problem, ProblemType, workshop::GetWorkshop};
use ellwand_service::Caller;

/// Where the health checks lie.
pub(crate) const PREFIX: &str = "/health/";

/// The process answers.
pub(crate) async fn live() -> HttpResponse {
    state("live")
}

/// The book answers too, and there is room to write to it: one small read, and nothing is written.
pub(crate) async fn ready(request: HttpRequest, data: Data<State>) -> HttpResponse {
    let book = data.book.clone();
    let read = move || match book.call(&Caller::owner("health"), &GetWorkshop {}) {
        Ok(_) => book.takes_writes().err(),
        Err(problem) => Some(problem),
    };
    let gone = |_| Some(Problem::new(ProblemType::Internal, "the threads are gone"));
    match web::block(read).await.unwrap_or_else(gone) {
        None => state("ready"),
        Some(problem) => error::response(problem, &RequestId::of(&request)),
    }
}

fn state(word: &str) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header(ContentType::json())
        .body(format!(r#"{{"state":"{word}"}}"#))
}
