//! Arithmetic and rules of Ellwand. No I/O, no clock, no terminal, no floats.
//!
//! Quantities are integers of one small unit (micrometres, milligrams, millionths of the currency);
//! products of two quantities go through `i128` in [`quantity::exact`] and come back checked.
#![deny(clippy::arithmetic_side_effects, clippy::float_arithmetic)]
#![warn(missing_docs)]

pub mod allocation;
pub mod assign;
pub mod certainty;
pub mod cloth;
pub mod code;
#[cfg(feature = "diesel")]
mod column;
pub mod costing;
pub mod lay;
pub mod layer;
pub mod ledger;
pub mod measure;
pub mod month;
pub mod need;
#[cfg(feature = "openapi")]
mod openapi;
pub mod person;
pub mod pricing;
pub mod purchase;
pub mod quantity;
pub mod setting;
pub mod shrinkage;
pub mod spelling;
pub mod stiffness;
pub mod thread;
pub mod trim;
pub mod weighed;
