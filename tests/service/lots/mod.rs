//! Lots and their pieces.

mod cloth;
mod edit;
