//! The commands end to end. Every line runs in process and over HTTP, and the answers must be the same.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod cash;
#[path = "../support/certificate.rs"]
mod certificate;
mod choosing;
mod clock;
mod closing;
mod cloth;
mod cloth_doubts;
mod conditions;
mod correcting;
mod erasing;
mod estimating;
mod files;
mod heading;
mod help;
mod interlining;
mod jacket;
mod late;
mod lossy;
mod matching;
mod one_model;
mod outcome;
mod own_lot;
#[path = "../support/own_schema.rs"]
mod own_schema;
mod partly;
mod people;
#[path = "../support/place.rs"]
mod place;
mod pooled;
mod promise_cost;
mod promised;
mod quoted_life;
mod quoting;
mod rates;
mod reclaiming;
mod reels;
mod reels_at_once;
mod refusals;
mod resting;
mod rests;
mod seams;
mod shelf;
mod shortages;
mod side_by_side;
mod sign_in;
mod stiffness;
mod supplements;
mod taken_over;
mod taking_back;
mod thread_count;
mod together;
mod trims;
mod watching;
#[path = "../support/workshop.rs"]
mod workshop;
