//! Needs that are served together: against every assignment of small shelves, tried one by one.

use ellwand_domain::assign::{Assignment, BUDGET, Claim, Offer, Source, Split, assign};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// Common practice: offcuts from 30 cm are kept; here in centimetres.
const KEEP: i64 = 30;

fn source(number: i64, free: &[i64]) -> Source {
    Source {
        lot: number,
        number: 1,
        width: 150,
        free: free.to_vec(),
    }
}

fn offer(source: usize, least: i64) -> Offer {
    Offer {
        source,
        least,
        rounded: least,
        off: 0,
        estimated: false,
    }
}

fn claim(units: i64, offers: &[Offer]) -> Claim {
    Claim {
        units,
        one_lot: true,
        split: Split::Lengths,
        offers: offers.to_vec(),
    }
}

fn serve(sources: &[Source], claims: &[Claim]) -> Assignment {
    assign(sources, claims, KEEP, BUDGET).unwrap()
}

/// Of each take: the need, the piece, and how much.
fn takes(found: &Assignment) -> Vec<(usize, usize, i64)> {
    found
        .takes
        .iter()
        .map(|take| (take.claim, take.source, take.quantity))
        .collect()
}

/// By hand: linen 3.1 m, cotton 2.1 m; 2 m of any and 2 m of cotton, each with 4 cm for its end.
#[test]
fn what_only_one_piece_serves_gets_it() {
    let shelf = [source(1, &[310]), source(2, &[210])];
    let any = claim(1, &[offer(1, 204), offer(0, 204)]);
    let cotton = claim(1, &[offer(1, 204)]);
    assert_eq!(
        takes(&serve(&shelf, &[any.clone(), cotton.clone()])),
        [(0, 0, 204), (1, 1, 204)]
    );
    assert_eq!(
        takes(&serve(&shelf, &[cotton, any])),
        [(0, 1, 204), (1, 0, 204)]
    );
}

/// Derived: 204 + 100 of 310 leave 6; 204 of 310 and 100 of 210 leave 106 and 110, which are kept.
#[test]
fn a_rest_that_is_kept_is_no_waste() {
    let shelf = [source(1, &[310]), source(2, &[210])];
    let claims = [
        claim(1, &[offer(1, 204), offer(0, 204)]),
        claim(1, &[offer(0, 100), offer(1, 100)]),
    ];
    let found = serve(&shelf, &claims);
    assert_eq!(
        (takes(&found), found.short),
        (vec![(0, 0, 204), (1, 1, 100)], vec![])
    );
}

/// Derived: 310 hold 100 twice and leave 110; one piece each leaves no more waste, and two pieces that are cut into.
#[test]
fn equal_waste_cuts_into_fewer_pieces() {
    let shelf = [source(1, &[310]), source(2, &[310])];
    let claims = [
        claim(1, &[offer(0, 100), offer(1, 100)]),
        claim(1, &[offer(1, 100), offer(0, 100)]),
    ];
    assert_eq!(takes(&serve(&shelf, &claims)), [(0, 0, 100), (1, 0, 100)]);
}

/// Derived: 200 and 100 use 300 up, where 200 of 220 would leave 20.
#[test]
fn what_is_used_up_is_no_waste() {
    let shelf = [source(1, &[220]), source(2, &[300])];
    let claims = [
        claim(1, &[offer(0, 200), offer(1, 200)]),
        claim(1, &[offer(0, 100), offer(1, 100)]),
    ];
    let found = serve(&shelf, &claims);
    assert_eq!(
        (takes(&found), found.short),
        (vec![(0, 1, 200), (1, 1, 100)], vec![])
    );
}

/// Derived: 154 + 154 are 308; rounded up to 155 only one of them still fits.
#[test]
fn rounding_up_gives_way_and_comes_back_where_there_is_room() {
    let rounded = Offer {
        rounded: 155,
        ..offer(0, 154)
    };
    let claims = [claim(1, &[rounded]), claim(1, &[rounded])];
    for (free, both) in [(308, [154, 154]), (309, [155, 154]), (310, [155, 155])] {
        let found = serve(&[source(1, &[free])], &claims);
        assert_eq!(
            takes(&found).iter().map(|take| take.2).collect::<Vec<_>>(),
            both,
            "{free}"
        );
    }
}

/// Derived: ten needs that each of ten equal pieces serves have 10! choices, which differ in nothing.
#[test]
fn pieces_that_are_alike_are_tried_once() {
    let shelf: Vec<Source> = (1..=10)
        .map(|number| Source {
            lot: 1,
            number,
            width: 150,
            free: vec![210],
        })
        .collect();
    let offers: Vec<Offer> = (0..10).map(|source| offer(source, 204)).collect();
    let claims: Vec<Claim> = (0..10).map(|_| claim(1, &offers)).collect();
    let found = serve(&shelf, &claims);
    assert_eq!((found.takes.len(), found.stopped), (10, false));
}

/// Derived: one set of three joined from 2 + 2, so that one is left for the other need.
#[test]
fn sets_are_joined_beside_one_another() {
    let buttons = |number| Source {
        lot: 1,
        number,
        width: 0,
        free: vec![2],
    };
    let sets = |each| Claim {
        split: Split::Joined,
        ..claim(1, &[offer(0, each), offer(1, each)])
    };
    assert!(
        serve(&[buttons(1), buttons(2)], &[sets(1), sets(3)])
            .unserved
            .is_empty()
    );
    assert_eq!(
        serve(&[buttons(1), buttons(2)], &[sets(2), sets(3)]).unserved,
        [1]
    );
}

/// Derived: three reels at once need three reels; a fourth is what the other need takes.
#[test]
fn reels_at_once_are_apart() {
    let reels: Vec<Source> = (1..=4)
        .map(|number| Source {
            lot: 1,
            number,
            width: 0,
            free: vec![100],
        })
        .collect();
    let offers = |least| {
        (0..4)
            .map(|source| offer(source, least))
            .collect::<Vec<_>>()
    };
    let apart = Claim {
        split: Split::Apart,
        ..claim(3, &offers(60))
    };
    let found = serve(&reels, &[claim(1, &offers(90)), apart]);
    assert!(found.unserved.is_empty());
    let pieces: BTreeSet<usize> = found.takes.iter().map(|take| take.source).collect();
    assert_eq!(pieces.len(), 4);
}

#[test]
fn a_spent_budget_is_said() {
    let shelf = [source(1, &[310]), source(2, &[210])];
    let claims = [
        claim(1, &[offer(1, 204), offer(0, 204)]),
        claim(1, &[offer(1, 204)]),
    ];
    assert_eq!(assign(&shelf, &claims, KEEP, 3), None);
}

/// One way to serve all needs: of each take need, piece, stretch, units.
type Way = Vec<(usize, usize, usize, i64)>;

/// Every way to serve one need, by the rule's text: any units of any pieces, those of a piece in one of its stretches.
fn ways(claim: &Claim, index: usize, sources: &[Source], from: usize, units: i64) -> Vec<Way> {
    if units == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for (at, offer) in claim.offers.iter().enumerate().skip(from) {
        let most = if claim.split == Split::Apart {
            1
        } else {
            units
        };
        for stretch in 0..sources[offer.source].free.len() {
            for some in 1..=most {
                for mut rest in ways(claim, index, sources, at + 1, units - some) {
                    rest.push((index, offer.source, stretch, some));
                    all.push(rest);
                }
            }
        }
    }
    all
}

/// Short rests, their area, pieces, lots and codes of a way; `None` where it does not fit.
type Worth = (usize, i128, usize, usize, Vec<(i64, i64)>);

fn worth(sources: &[Source], claims: &[Claim], way: &Way) -> Option<Worth> {
    let mut left: Vec<Vec<i64>> = sources.iter().map(|source| source.free.clone()).collect();
    let mut cut = BTreeSet::new();
    for (claim, source, stretch, units) in way {
        let offer = claims[*claim]
            .offers
            .iter()
            .find(|offer| offer.source == *source)
            .unwrap();
        left[*source][*stretch] -= offer.least * units;
        cut.insert((*source, *stretch));
    }
    for (index, claim) in claims.iter().enumerate() {
        let lots: BTreeSet<i64> = way
            .iter()
            .filter(|take| take.0 == index)
            .map(|take| sources[take.1].lot)
            .collect();
        if claim.one_lot && lots.len() > 1 {
            return None;
        }
    }
    if left.iter().flatten().any(|left| *left < 0) {
        return None;
    }
    let short = cut
        .iter()
        .filter(|(source, stretch)| (1..KEEP).contains(&left[*source][*stretch]));
    let short: Vec<(usize, usize)> = short.copied().collect();
    let area = short.iter().map(|(source, stretch)| {
        i128::from(left[*source][*stretch]) * i128::from(sources[*source].width)
    });
    let codes: BTreeSet<(i64, i64)> = cut
        .iter()
        .map(|(source, _)| (sources[*source].lot, sources[*source].number))
        .collect();
    let lots: BTreeSet<i64> = codes.iter().map(|code| code.0).collect();
    Some((
        short.len(),
        area.sum(),
        codes.len(),
        lots.len(),
        codes.into_iter().collect(),
    ))
}

/// The best of all ways to serve all needs; `None` where there is none.
fn best(sources: &[Source], claims: &[Claim]) -> Option<Worth> {
    let mut all: Vec<Way> = vec![Vec::new()];
    for (index, claim) in claims.iter().enumerate() {
        let own = ways(claim, index, sources, 0, claim.units);
        let beside = |way: &Way| {
            own.iter()
                .map(|own| way.iter().chain(own).copied().collect::<Way>())
                .collect::<Vec<_>>()
        };
        all = all
            .iter()
            .flat_map(beside)
            .filter(|way| worth(sources, claims, way).is_some())
            .collect();
    }
    all.iter()
        .filter_map(|way| worth(sources, claims, way))
        .min()
}

/// Up to four pieces of two lots with up to two stretches, and up to three needs with conditions of their own.
fn instances() -> impl Strategy<Value = (Vec<Source>, Vec<Claim>)> {
    let source = (
        1..=2_i64,
        1..=2_i64,
        proptest::collection::vec(20..=260_i64, 1..=2),
    );
    let sources = proptest::collection::vec(source, 1..=4).prop_map(|sources| {
        let number = |(place, (lot, width, free)): (usize, (i64, i64, Vec<i64>))| Source {
            lot,
            number: i64::try_from(place).unwrap(),
            width: width * 75,
            free,
        };
        sources
            .into_iter()
            .enumerate()
            .map(number)
            .collect::<Vec<Source>>()
    });
    let claim = (
        1..=2_i64,
        any::<bool>(),
        any::<bool>(),
        20..=140_i64,
        proptest::collection::vec(0..=2_i64, 4),
    );
    let claims = proptest::collection::vec(claim, 1..=3);
    (sources, claims).prop_map(|(sources, claims)| {
        let claims = claims
            .into_iter()
            .map(|(units, one_lot, apart, least, serves)| {
                let places = (0..sources.len()).filter(|place| serves[*place] > 0);
                // Cloth that shrinks more is taken more of.
                let offers = places
                    .map(|place| offer(place, least + 5 * (serves[place] - 1)))
                    .collect();
                let split = if apart { Split::Apart } else { Split::Lengths };
                Claim {
                    units,
                    one_lot,
                    split,
                    offers,
                }
            });
        let claims = claims.collect();
        (sources, claims)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// The rule's text: every need is served if there is a way, and of all ways by the least waste.
    #[test]
    fn no_assignment_is_better((sources, claims) in instances()) {
        let found = serve(&sources, &claims);
        prop_assert!(!found.stopped);
        let score = &found.score;
        let own = (score.short, score.area, score.pieces, score.lots, score.codes.clone());
        match best(&sources, &claims) {
            Some(best) => {
                prop_assert_eq!(&found.unserved, &Vec::<usize>::new());
                prop_assert_eq!(own, best);
            }
            None => prop_assert!(!found.unserved.is_empty()),
        }
        // What was found is itself a way.
        let way: Way = found.takes.iter().map(|take| (take.claim, take.source, take.stretch, take.units)).collect();
        prop_assert!(worth(&sources, &claims, &way).is_some());
        for (index, claim) in claims.iter().enumerate() {
            let units: i64 = found.takes.iter().filter(|take| take.claim == index).map(|take| take.units).sum();
            let wanted = if found.unserved.contains(&index) { 0 } else { claim.units };
            prop_assert_eq!(units, wanted);
        }
    }

    #[test]
    fn the_order_of_needs_changes_neither_service_nor_waste((sources, claims) in instances()) {
        let found = serve(&sources, &claims);
        let mut turned = claims;
        for _ in 1..turned.len() {
            turned.rotate_left(1);
            let other = serve(&sources, &turned);
            prop_assert_eq!(other.unserved.len(), found.unserved.len());
            if found.unserved.is_empty() {
                prop_assert_eq!(&other.score, &found.score);
            }
        }
    }

    #[test]
    fn more_cloth_never_serves_less((sources, claims) in instances(), place in 0..4_usize, more in 1..200_i64) {
        let served = claims.len() - serve(&sources, &claims).unserved.len();
        let mut longer = sources.clone();
        let place = place % longer.len();
        longer[place].free[0] += more;
        prop_assert!(claims.len() - serve(&longer, &claims).unserved.len() >= served, "a longer piece");
        let mut another = sources;
        let number = i64::try_from(another.len()).unwrap();
        another.push(Source { number, ..another[place].clone() });
        let mut offered = claims.clone();
        for claim in &mut offered {
            let same = claim.offers.iter().find(|offer| offer.source == place).copied();
            claim.offers.extend(same.map(|same| Offer { source: another.len() - 1, ..same }));
        }
        prop_assert!(claims.len() - serve(&another, &offered).unserved.len() >= served, "another piece");
    }
}
