//! The rules and arithmetic of the domain, against published and derived figures.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod allocation;
mod allocation_beside;
mod assign;
mod cloth;
mod cloth_doubts;
mod costing;
mod filling;
mod lay;
mod layer;
mod layer_beside;
mod layer_own;
mod layer_replay;
mod layer_share;
mod ledger;
mod month;
mod need;
mod oracle;
mod outcome;
mod parts;
mod pay;
mod person;
mod planned;
mod pricing;
mod purchase;
mod quantity;
mod seams;
mod shrinkage;
mod spelling;
mod stiffness;
mod thread;
mod trim;
mod weighed;
