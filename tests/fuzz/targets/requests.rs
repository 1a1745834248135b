//! Whatever comes as a request, in JSON or in a purchase file, is read or refused; what is read survives being sent.
#![no_main]

use ellwand_contract::{cuts::Cut, garments::PlanGarment, purchases::Buy, reservations::Reserve, wash::TestWash};
use libfuzzer_sys::fuzz_target;
use serde_json::{from_slice, from_value, to_value};

macro_rules! survives {
    ($bytes:expr, $($request:ty)*) => {$(
        if let Ok(request) = from_slice::<$request>($bytes) {
            let sent = to_value(&request).expect("a request is JSON");
            let again: $request = from_value(sent.clone()).expect("what was sent is read");
            assert_eq!(to_value(&again).expect("a request is JSON"), sent);
        }
    )*};
}

fuzz_target!(|bytes: &[u8]| {
    survives!(bytes, Buy PlanGarment Reserve Cut TestWash);
    if let Ok(text) = std::str::from_utf8(bytes) {
        let _ = toml::from_str::<Buy>(text);
        let _ = toml::from_str::<PlanGarment>(text);
    }
});
