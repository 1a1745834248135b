//! Generic fibre names.
//!
//! Names of Regulation (EU) No 1007/2011, Annex I, with no. 49 of Regulation (EU) 286/2012 and no. 50 of Regulation
//! (EU) 2018/122. Generic names of the United States (16 CFR 303) beside them are from memory. `olefin` and
//! `fur fiber` each cover two EU names and stand alone.

/// A fibre: the name the book uses and the others it is read under.
#[derive(Debug, PartialEq, Eq)]
pub struct Fibre {
    /// EU generic name, the short form where Annex I gives two.
    pub name: &'static str,
    /// Other accepted names.
    pub others: &'static [&'static str],
}

const fn fibre(name: &'static str, others: &'static [&'static str]) -> Fibre {
    Fibre { name, others }
}

/// Every fibre known by name, in the order of Annex I.
pub const FIBRES: &[Fibre] = &[
    fibre("wool", &[]),
    fibre("alpaca", &["alpaca wool", "alpaca hair"]),
    fibre("llama", &["llama wool", "llama hair"]),
    fibre("camel", &["camel hair", "camel wool"]),
    fibre("cashmere", &["cashmere wool", "cashmere hair"]),
    fibre("mohair", &[]),
    fibre(
        "angora",
        &["angora rabbit hair", "angora wool", "angora hair"],
    ),
    fibre("vicuna", &["vicuña"]),
    fibre("yak", &["yak hair"]),
    fibre("guanaco", &[]),
    fibre("cashgora", &[]),
    fibre("beaver", &["beaver hair"]),
    fibre("otter", &["otter hair"]),
    fibre("fur fiber", &["fur fibre"]),
    fibre("hair", &["animal hair", "horsehair"]),
    fibre("silk", &[]),
    fibre("cotton", &[]),
    fibre("kapok", &[]),
    fibre("flax", &["linen"]),
    fibre("hemp", &["true hemp"]),
    fibre("jute", &[]),
    fibre("abaca", &["manila hemp"]),
    fibre("alfa", &[]),
    fibre("coir", &["coconut"]),
    fibre("broom", &[]),
    fibre("ramie", &[]),
    fibre("sisal", &[]),
    fibre("sunn", &[]),
    fibre("henequen", &[]),
    fibre("maguey", &[]),
    fibre("acetate", &[]),
    fibre("alginate", &[]),
    fibre("cupro", &["rayon (cupro)"]),
    fibre("modal", &["rayon (modal)"]),
    fibre("protein", &["azlon"]),
    fibre("triacetate", &[]),
    fibre("viscose", &["rayon", "rayon (viscose)", "viscose (rayon)"]),
    fibre("acrylic", &[]),
    fibre("chlorofibre", &["saran", "vinyon"]),
    fibre("fluorofibre", &["fluoropolymer"]),
    fibre("modacrylic", &[]),
    fibre("polyamide", &["nylon"]),
    fibre("aramid", &[]),
    fibre("polyimide", &[]),
    fibre("lyocell", &[]),
    fibre("polylactide", &["pla"]),
    fibre("polyester", &[]),
    fibre("polyethylene", &[]),
    fibre("polypropylene", &[]),
    fibre("olefin", &[]),
    fibre("polycarbamide", &[]),
    fibre("polyurethane", &[]),
    fibre("vinylal", &["vinal"]),
    fibre("trivinyl", &[]),
    fibre("elastodiene", &["rubber", "lastrile"]),
    fibre("elastane", &["spandex"]),
    fibre("glass fibre", &["glass", "glass fiber"]),
    fibre("elastomultiester", &["elasterell-p"]),
    fibre("elastolefin", &["lastol"]),
    fibre("melamine", &[]),
    fibre("metal", &["metallic", "metallised"]),
    fibre("paper", &[]),
    fibre("polypropylene/polyamide bicomponent", &[]),
    fibre("polyacrylate", &[]),
];

impl Fibre {
    /// All its names, the book's first.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.others.iter().copied())
    }
}

/// One spelling of a name: small letters, single spaces.
#[must_use]
pub fn spelled(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// The fibre of that name, in either case.
#[must_use]
pub fn find(name: &str) -> Option<&'static Fibre> {
    let name = spelled(name);
    FIBRES
        .iter()
        .find(|fibre| fibre.names().any(|known| known == name))
}

/// The known name that needs the fewest changed letters, the first of equals.
#[must_use]
pub fn nearest(name: &str) -> &'static str {
    let name: Vec<char> = spelled(name).chars().take(64).collect();
    let names = FIBRES.iter().flat_map(Fibre::names);
    names
        .min_by_key(|known| distance(&name, known))
        .unwrap_or("cotton")
}

/// Letters to insert, drop or change (Levenshtein), row by row.
fn distance(from: &[char], to: &str) -> usize {
    let mut costs: Vec<usize> = (0..=from.len()).collect();
    for (row, letter) in (1_usize..).zip(to.chars()) {
        let mut diagonal = std::mem::replace(&mut costs[0], row);
        let mut left = row;
        for (cost, own) in costs.iter_mut().skip(1).zip(from) {
            let change = if *own == letter {
                diagonal
            } else {
                diagonal.saturating_add(1)
            };
            diagonal = *cost;
            left = change.min(left.min(*cost).saturating_add(1));
            *cost = left;
        }
    }
    costs.last().copied().unwrap_or(usize::MAX)
}
