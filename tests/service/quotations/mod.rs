//! Quotations, from the price to the outcome.

mod cash;
mod house;
mod life;
mod outcome;
mod price;
mod promises;
mod supplement;
