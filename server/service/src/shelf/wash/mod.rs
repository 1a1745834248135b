//! Wash tests, and pieces that were washed or steamed.

mod done;
mod load;
mod swatch;
mod test;
