//! Whatever is typed as a quantity, a share or a preparation is read or refused; what is read is read the same when it is
//! written out exactly.
#![no_main]

use ellwand_domain::{
    code::PieceCode,
    quantity::{Micrometres, Milligrams, MilligramsPerM2, Minutes, PartsPerMillion},
    shrinkage::Preparation,
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    if let Ok(length) = text.parse::<Micrometres>() {
        assert!(length <= Micrometres::MAX);
        let exact = format!("{}um", length.get());
        assert_eq!(exact.parse().ok(), Some(length), "{text}");
    }
    let _ = text.parse::<Milligrams>();
    let _ = text.parse::<MilligramsPerM2>();
    let _ = text.parse::<Minutes>();
    if let Ok(share) = text.parse::<PartsPerMillion>() {
        assert_eq!(format!("{}%", share.decimal()).parse().ok(), Some(share), "{text}");
    }
    if let Ok(preparation) = text.parse::<Preparation>() {
        assert_eq!(preparation.to_string().parse().ok(), Some(preparation), "{text}");
    }
    if let Ok(code) = text.parse::<PieceCode>() {
        assert_eq!(code.to_string().parse().ok(), Some(code), "{text}");
    }
});
