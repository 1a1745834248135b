//! Washes: tested, predicted and done.

mod doubts;
mod shrinkage;
