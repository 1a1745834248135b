//! What a need asks of a piece.

mod conditions;
mod repeats;
