//! What travels between the CLI and the server: one request type per act, its answer, and problems.
//!
//! Each request type implements [`Act`]: its name, method and path stand beside its fields, so that the
//! router, the client and the OpenAPI document read the same line.
#![warn(missing_docs)]

pub mod access;
pub mod act;
pub mod acts;
pub mod audit;
pub mod bookings;
pub mod costs;
pub mod cuts;
pub mod details;
pub mod figures;
pub mod garments;
pub mod goods;
pub mod json;
pub mod lays;
pub mod logos;
pub mod lots;
pub mod measures;
pub mod month;
pub mod operations;
pub mod options;
pub mod outcomes;
pub mod overhead;
#[cfg(feature = "clap")]
pub mod pairs;
pub mod parties;
pub mod people;
pub mod problem;
pub mod purchases;
pub mod quotations;
pub mod reservations;
pub mod seams;
pub mod sending;
pub mod sheets;
pub mod shelf;
pub mod shrinkage;
pub mod stiffness;
pub mod text;
#[cfg(feature = "clap")]
pub mod typed;
pub mod version;
pub mod waiting;
pub mod wash;
pub mod wire;
pub mod words;
pub mod work;
pub mod workshop;

pub use act::{Act, Method, Outcome};
pub use problem::{Problem, ProblemType};
pub use sending::Sending;
pub use wire::{Amount, Gsm, Meta, Metres, Micro, Typed};
