//! Which program answers, for clients of another version; nothing about the book, the machine or the people.

use actix_web::{HttpResponse, web::Json};
use ellwand_contract::version::Version;

/// Name, version and wire form.
pub(crate) async fn version() -> HttpResponse {
    HttpResponse::Ok().json(Json(Version::own(env!("CARGO_PKG_NAME"))))
}
