//! Seams whose thread cannot be known.

use super::{hundredths, inches, plain, ratio, um};
use ellwand_domain::{
    quantity::{Micrometres, PartsPerMillion},
    thread::{Density, Measures, Method, Roles, Sample, Seam, SeamError, Stitch},
};

#[test]
fn what_is_not_known_is_refused_and_never_guessed() {
    for (text, nearest) in [
        ("330", "301, 401, 406"),
        ("99", "101, 103, 209"),
        ("700", "602, 605"),
    ] {
        let error = Stitch::parse(text).unwrap_err().to_string();
        assert!(
            error.contains("not a stitch type of ISO 4915") && error.contains(nearest),
            "{error}"
        );
    }
    assert!(
        Stitch::parse("zigzag")
            .unwrap_err()
            .to_string()
            .contains("half-back")
    );
    // In the standard, without a published figure: 103, 514 and others; 209 has a geometry, once measured.
    for class in ["103", "209", "514", "304", "501"] {
        let refused = plain(class).thread().unwrap_err();
        assert!(
            matches!(refused, SeamError::Unknown { .. }),
            "{class}: {refused}"
        );
        let under = if ["103", "209"].contains(&class) {
            Micrometres::ZERO
        } else {
            um("4cm")
        };
        let sample = Some(Sample::new(um("3cm"), um("9cm"), under).unwrap());
        assert_eq!(
            Seam {
                sample,
                ..plain(class)
            }
            .thread()
            .unwrap()
            .method,
            Method::Sample,
            "{class}"
        );
    }
    assert_eq!(ratio(&inches("209", 10, "0.01in")), hundredths(110));
}

#[test]
fn measures_of_nothing_are_refused() {
    let refused = |measures: Measures| {
        let length = Some(Micrometres::METRE);
        Seam {
            measures: Measures { length, ..measures },
            ..plain("301")
        }
        .thread()
        .unwrap_err()
    };
    let none = Measures::default();
    let zero = Some(Micrometres::ZERO);
    assert_eq!(
        refused(Measures {
            thickness: zero,
            ..none
        }),
        SeamError::NotPositive {
            measure: "thickness"
        }
    );
    assert_eq!(
        refused(Measures {
            width: Some(um("1.01m")),
            ..none
        }),
        SeamError::TooLarge { measure: "width" }
    );
    for text in ["0", "-4", "four", "4 per inch", "1001"] {
        assert!(Density::parse_per_cm(text).is_err(), "{text}");
    }
    assert!(Density::parse_per_cm("1000").is_ok() && Density::parse_per_cm("4.5 /cm").is_ok());
    assert!(Density::of_step(Micrometres::ZERO).is_err());
    for count in [0, -1, 10_001] {
        assert_eq!(
            Seam {
                count,
                ..plain("301")
            }
            .thread()
            .unwrap_err(),
            SeamError::Count { count }
        );
    }
    assert!(
        Seam {
            count: 10_000,
            ..plain("301")
        }
        .thread()
        .is_ok()
    );
    assert_eq!(
        Sample::new(Micrometres::ZERO, um("1m"), um("1m")),
        Err(SeamError::EmptySample)
    );
    assert_eq!(
        Sample::new(um("1m"), Micrometres::ZERO, um("1m")),
        Err(SeamError::EmptySample)
    );
    // A thread runs along its seam (geometry): as long is the least.
    assert_eq!(
        Sample::new(um("3cm"), um("29mm"), um("8cm")),
        Err(SeamError::ShortSample)
    );
    assert_eq!(
        Sample::new(um("3cm"), um("8cm"), um("29mm")),
        Err(SeamError::ShortSample)
    );
    assert!(Sample::new(um("3cm"), um("3cm"), um("3cm")).is_ok());
    let no_length = Seam {
        measures: none,
        ..plain("301")
    };
    assert_eq!(no_length.thread().unwrap_err(), SeamError::NoLength);
    let long = Seam {
        measures: Measures {
            length: Some(Micrometres::MAX),
            ..none
        },
        ..plain("301")
    };
    assert_eq!(long.thread().unwrap_err(), SeamError::Overflow);
}

#[test]
fn two_roles_need_a_share() {
    let measures = Measures {
        density: Some(Density::parse_per_cm("4").unwrap()),
        thickness: Some(um("0.8mm")),
        width: Some(um("5mm")),
        ..plain("514").measures
    };
    let seam = Seam {
        measures,
        ..plain("514")
    };
    let of = |seam: &Seam, under: &str| {
        Roles {
            needle: "thread".into(),
            under: under.into(),
            thread: seam.thread().unwrap(),
        }
        .check()
    };
    assert!(of(&seam, "Thread").is_ok(), "one role gives the whole");
    assert_eq!(
        of(&seam, "looper"),
        Err(SeamError::ShareUnknown {
            stitch: "514".into()
        })
    );
    let shared = Seam {
        needle_share: Some("30%".parse().unwrap()),
        ..seam
    };
    assert!(of(&shared, "looper").is_ok());
    let thread = shared.thread().unwrap();
    // 5 + 4·(6·0.08 + 4·0.5) = 14.92, of which 30 % are 4.476.
    assert_eq!((thread.needle, thread.under), (um("4.476m"), um("10.444m")));
    let one = Seam {
        needle_share: Some(PartsPerMillion::WHOLE),
        ..plain("101")
    };
    assert!(matches!(one.thread(), Err(SeamError::OneThread { .. })));
    let more = Seam {
        needle_share: Some("100.01%".parse().unwrap()),
        ..plain("301")
    };
    assert_eq!(more.thread().unwrap_err(), SeamError::Share);
}
