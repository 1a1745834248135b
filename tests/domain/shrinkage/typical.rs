//! Typical values of fibres and blends.

use super::{WASHED, percent};
use ellwand_domain::{
    cloth::parse_shares,
    shrinkage::{Preparation, typical, typical_of_blend},
};

#[test]
fn typical_values_are_the_high_end_and_name_their_source() {
    let of =
        |fibre, construction| typical(fibre, construction, WASHED).map(|t| (t.length, t.width));
    // modacrylic-xf.com 12 Jun 2018; 18thcstockholm.blogspot.com 28 Sep 2017; kembrel.com; denimhunters.com;
    // loomstate cotton, wool and the viscose width are from memory.
    assert_eq!(
        of("silk", None),
        Some((percent("10%"), Some(percent("3%"))))
    );
    assert_eq!(of("linen", None), of("flax", None));
    assert_eq!(of("Linen", None), Some((percent("6%"), None)));
    assert_eq!(
        of("linen", Some("canvas")),
        Some((percent("4%"), Some(percent("2%"))))
    );
    assert_eq!(
        of("rayon", None),
        Some((percent("10%"), Some(percent("6%"))))
    );
    // What is not said to be loomstate has the ordinary finish.
    assert_eq!(
        of("cotton", None),
        Some((percent("6%"), Some(percent("2.5%"))))
    );
    for plain in ["plain", "twill", "poplin", "plain weave", "Shirting"] {
        assert_eq!(of("cotton", Some(plain)), of("cotton", None), "{plain}");
    }
    for raw in [
        "loomstate",
        "loomstate twill",
        "greige plain",
        "loom-state poplin",
    ] {
        assert_eq!(
            of("cotton", Some(raw)),
            Some((percent("12%"), Some(percent("5%")))),
            "{raw}"
        );
    }
    assert_eq!(
        of("cotton", Some("pre-shrunk twill")),
        Some((percent("6%"), None))
    );
    // Denim by its words.
    for denim in ["denim", "loomstate denim", "raw denim, unsanforised"] {
        assert_eq!(
            of("cotton", Some(denim)),
            Some((percent("10%"), None)),
            "{denim}"
        );
    }
    for denim in [
        "compressive-shrunk denim",
        "denim, sanforised",
        "Denim pre shrunk",
    ] {
        assert_eq!(
            of("cotton", Some(denim)),
            Some((percent("3%"), None)),
            "{denim}"
        );
    }
    let bare = typical("cotton", Some("denim"), WASHED).unwrap().source;
    assert!(
        bare.contains("no compressive shrinking is stated"),
        "{bare}"
    );
    // Knits take no woven's figure, woven cloth none of a knit, felt and fleece neither.
    for (fibre, construction) in [
        ("wool", "felt"),
        ("wool", "boiled"),
        ("wool", "jersey"),
        ("polyester", "fleece"),
        ("cotton", "fleece"),
        ("cotton", "rib"),
        ("flax", "knitted"),
        ("viscose", "jersey"),
    ] {
        assert_eq!(
            of(fibre, Some(construction)),
            None,
            "{fibre} {construction}"
        );
    }
    assert_eq!(of("wool", Some("flannel")), of("wool", None));
    assert_eq!(
        of("flax", Some("close old sheeting")),
        Some((percent("2.5%"), None))
    );
    // The figure of viscose is that of one wash, which is said of more.
    let more = typical("viscose", None, Preparation::Washed { times: 2 }).unwrap();
    assert_eq!(more.length, percent("10%"));
    assert!(
        more.source.contains("worst case") && more.source.contains("of one wash only"),
        "{}",
        more.source
    );
    assert!(
        !typical("viscose", None, WASHED)
            .unwrap()
            .source
            .contains("one wash only")
    );
    assert_eq!(
        of("cotton", Some("jersey knit")),
        Some((percent("3%"), Some(percent("3%"))))
    );
    assert_eq!(of("cotton", Some("gauze")), of("cotton", None));
    // Felting is left out: a machine wash of wool is not planned.
    assert_eq!(of("wool", None), Some((percent("4%"), Some(percent("3%")))));
    assert_eq!(
        typical("wool", None, Preparation::Steamed).unwrap().length,
        percent("4%")
    );
    assert_eq!(typical("cotton", None, Preparation::Steamed), None);
    assert_eq!(of("kapok", None), None);
    assert_eq!(of("no such fibre", None), None);
}

#[test]
fn a_blend_shrinks_like_the_worst_of_its_main_fibres() {
    let blend = |text| typical_of_blend(&parse_shares(text).unwrap(), None, WASHED);
    let found = blend("polyester 80%, viscose 20%").unwrap();
    assert_eq!(found.length, percent("10%"));
    assert!(found.source.contains("blend"), "{}", found.source);
    // Below 20 % a fibre does not count.
    assert_eq!(
        blend("polyester 80.1%, viscose 19.9%").unwrap().length,
        percent("1%")
    );
    // What has no figure is unknown, and so is a blend with 20 % of it.
    assert_eq!(blend("acrylic 79%, wool 21%"), None);
    assert_eq!(blend("cotton 80%, acrylic 20%"), None);
    assert_eq!(
        blend("cotton 80%, acrylic 10%, polyamide 10%"),
        None,
        "together"
    );
    assert_eq!(
        blend("cotton 80.1%, acrylic 10%, polyamide 9.9%")
            .unwrap()
            .length,
        percent("6%")
    );
    // Trade page meyijeans.com: stretch denim gives way crosswise.
    assert_eq!(
        blend("cotton 97%, elastane 3%").unwrap().width,
        Some(percent("12%"))
    );
}
