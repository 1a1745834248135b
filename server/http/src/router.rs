//! The table of contents: every route of the server.

use crate::{act::Table, error, health, metrics, openapi, picture, version};
use actix_web::{
    Resource, guard,
    web::{self, ServiceConfig},
};

/// Every act of the contract, by resource.
#[must_use]
pub fn table() -> Table {
    macro_rules! table {
        ($($kind:ident($act:ty)),*) => {
            Table::default()$(.act::<$act>())*
        };
    }
    ellwand_contract::each_act!(table)
}

/// Adds every route to an application; the application's data must hold a [`State`](crate::State).
pub fn configure(config: &mut ServiceConfig) {
    // Before the lay itself, whose code would be read up to the end.
    config.service(read_only(picture::PATH).route(reading().to(picture::of_lay)));
    for resource in table().resources() {
        config.service(resource);
    }
    config
        .service(read_only("/v1/openapi.json").route(reading().to(openapi::document)))
        .service(read_only(ellwand_contract::version::PATH).route(reading().to(version::version)))
        .service(read_only("/metrics").route(reading().to(metrics::metrics)))
        .service(read_only("/health/live").route(reading().to(health::live)))
        .service(read_only("/health/ready").route(reading().to(health::ready)));
}

/// A route for GET and, as HTTP asks, for HEAD.
pub(crate) fn reading() -> actix_web::Route {
    web::route().guard(guard::Any(guard::Get()).or(guard::Head()))
}

fn read_only(path: &str) -> Resource {
    web::resource(path)
        .default_service(web::to(|request| error::wrong_method(request, "GET, HEAD")))
}
