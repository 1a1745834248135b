//! `ellwand garment`: plans, and the life of what is made.

mod cancel;
mod estimate;
mod examples;
mod parts;
mod seams;
