//! `ellwand quote`: quotations, from the price to the payment.

mod accept;
mod close;
mod cloths;
mod make;
mod options;
mod outcome;
mod pay;
mod print;
mod supplement;
