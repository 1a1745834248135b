//! `ellwand lot`: a lot with its pieces.

mod edit;
mod flaw;
mod show;
mod stiffness;
mod weigh;
