//! The server over HTTP: routes, problems, repeated requests, the OpenAPI document, settings, the program.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod abuse;
mod access;
mod app;
#[path = "../support/certificate.rs"]
mod certificate;
mod changes;
mod cluster;
mod crash;
mod details;
mod document;
mod encrypted;
mod fight;
mod full;
mod health;
mod lays;
mod limits;
mod money;
mod moving;
#[path = "../support/own_schema.rs"]
mod own_schema;
#[path = "../support/place.rs"]
mod place;
mod problems;
mod program;
mod readme;
mod repeated;
mod routes;
mod served;
mod settings;
mod version;
