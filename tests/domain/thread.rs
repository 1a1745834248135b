//! Thread counts and lengths on the reel.

use ellwand_domain::{
    quantity::{Micrometres, MilliTex, Milligrams, QuantityError, YarnCount},
    thread::{length_on_reel, mass_of_thread},
};

fn tex(text: &str) -> MilliTex {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// Metres to a tenth.
fn tenths(net: &str, count: &str) -> i64 {
    let length = length_on_reel(net.parse::<Milligrams>().unwrap(), tex(count)).unwrap();
    (length.get() + 50_000) / 100_000
}

#[test]
fn counts_convert_between_systems() {
    // d-1, "Shawl Weaving Artisan" trade text p. 72: Nm 60 is 16.67 tex.
    assert_eq!(tex("Nm 60").get(), 16_667);
    // d-2, same: 20 tex is Ne 29.53.
    assert_eq!(tex("20tex").thousandths_of(YarnCount::Cotton), 29_527);
    // d-3, mapofsciences.com: Ne 30 is 19.68 tex, 177.2 den.
    assert_eq!(tex("Ne 30").get(), 19_685);
    assert_eq!((tex("Ne 30").thousandths_of(YarnCount::Denier) + 50) / 100, 1_772);
    // d-12, Wikipedia "Units of textile measurement" copy: 900 m that weigh 7.5 g are 75 den.
    let sample = MilliTex::of_sample("7.5g".parse().unwrap(), "900m".parse().unwrap()).unwrap();
    assert_eq!((sample.thousandths_of(YarnCount::Denier) + 50) / 100, 750);
    assert_eq!(tex("75den"), sample);
}

#[test]
fn every_system_is_read_before_or_behind_its_number() {
    for (text, milli) in [
        ("30tex", 30_000),
        ("tex 30", 30_000),
        ("300dtex", 30_000),
        ("270den", 30_000),
        ("Nm 50/2", 40_000),
        ("50/2 Nm", 40_000),
        ("nm 25", 40_000),
        ("Ne 40/2", 29_527),
        ("metric ticket 120", 25_000),
        ("metric ticket 100", 30_000),
        ("cotton ticket 40", 44_291),
        ("23,622 tex", -1),
    ] {
        assert_eq!(text.parse::<MilliTex>().map_or(-1, MilliTex::get), milli, "{text}");
    }
    let bare = "ticket 120".parse::<MilliTex>().unwrap_err().to_string();
    assert!(bare.contains("metric or cotton"), "{bare}");
    assert!("30/2 tex".parse::<MilliTex>().is_err(), "plies multiply a direct count");
    for text in ["0tex", "Nm 0", "tex 0.0001"] {
        assert!(matches!(text.parse::<MilliTex>(), Err(QuantityError::NotPositive { .. })), "{text}");
    }
    assert!("1000001 tex".parse::<MilliTex>().is_err() && "1000000 tex".parse::<MilliTex>().is_ok());
}

#[test]
fn tickets_are_three_cords() {
    // d-4, d-5, apparelmerchandisinglearner.blogspot.com 2017 and garmentsmerchandising.com: cotton tickets.
    for (count, ticket) in [
        ("20/3", 20),
        ("20/2", 30),
        ("40/2", 60),
        ("60/3", 60),
        ("80/4", 60),
        ("40/3", 40),
        ("40/4", 30),
        ("60/2", 90),
    ] {
        let found = tex(&format!("Ne {count}")).thousandths_of(YarnCount::CottonTicket);
        assert_eq!((found + 500) / 1_000, ticket, "{count}");
    }
    // d-6, salmanenayet.wixsite.com: metric tickets.
    for (count, ticket) in [("60/1", 180), ("60/2", 90), ("60/4", 45)] {
        let found = tex(&format!("Nm {count}")).thousandths_of(YarnCount::MetricTicket);
        assert_eq!((found + 500) / 1_000, ticket, "{count}");
    }
}

#[test]
fn the_length_on_a_reel_comes_from_its_mass() {
    // d-7, d-8, computed.
    assert_eq!(tenths("100g", "30tex"), 33_333);
    assert_eq!(tenths("500g", "27tex"), 185_185);
    // d-9: 95 g of Ne 50/2 is 4021.7 m; textilecalculations.com prints 4002.31 from rounded yards and pounds.
    assert_eq!(tenths("95g", "Ne 50/2"), 40_217);
    let mass = mass_of_thread("5000m".parse().unwrap(), tex("30tex")).unwrap();
    assert_eq!(mass.get(), 150_000);
    assert!(length_on_reel(Milligrams::MAX, MilliTex::new(1).unwrap()).is_err(), "beyond 10 000 km");
    assert!(MilliTex::of_sample("1g".parse().unwrap(), Micrometres::ZERO).is_err());
}

#[test]
fn cotton_and_metric_counts_keep_their_ratio() {
    // d-10: Ne × denier = 5314.9 and Nm = 1.6934 × Ne; a page at textilecalculations.com loses the decimal points.
    assert_eq!((tex("Ne 1").thousandths_of(YarnCount::Denier) + 50) / 100, 53_149);
    let (metric, cotton) =
        (tex("1tex").thousandths_of(YarnCount::Metric), tex("1tex").thousandths_of(YarnCount::Cotton));
    assert_eq!((metric * 100_000 / cotton + 5) / 10, 16_934);
}
