//! Wash tests, and pieces that were washed or steamed.

mod done;
mod swatch;
mod test;
