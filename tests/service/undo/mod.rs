//! What is taken back, and what is in the way of it.

mod cuts;
mod order;
mod plans;
mod rested_on;
mod together;
