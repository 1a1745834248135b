//! Pieces on the cloth, and what lies over what: the collision engine is asked here and nowhere else.

use crate::piece::{Pieces, Spot};
use jagua_rs::{
    collision_detection::{
        CDEConfig, CDEngine,
        hazards::{HazKey, Hazard, HazardEntity, collector::HazardCollector, filter::NoFilter},
    },
    geometry::{
        Transformation,
        geo_enums::GeoPosition,
        geo_traits::TransformableFrom,
        primitives::{Rect, SPolygon},
    },
};
use std::sync::Arc;

const DEPTH: u8 = 5;
const EDGES: u8 = 16;

/// What a collision is with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Thing {
    Piece(u32),
    /// What lies beyond the engine's own edge; nothing ever reaches it, since the cloth's edges are kept by the box around a piece.
    Beyond,
}

impl HazardEntity for Thing {
    fn scope(&self) -> GeoPosition {
        match self {
            Self::Piece(_) => GeoPosition::Interior,
            Self::Beyond => GeoPosition::Exterior,
        }
    }

    fn is_dynamic(&self) -> bool {
        *self != Self::Beyond
    }
}

/// What one query ran into: never more than a few.
#[derive(Default)]
struct Hit(Vec<(HazKey, Thing)>);

impl HazardCollector for Hit {
    type Entity = Thing;

    fn contains_key(&self, key: HazKey) -> bool {
        self.0.iter().any(|(known, _)| *known == key)
    }

    fn insert(&mut self, key: HazKey, thing: Thing) {
        self.0.push((key, thing));
    }

    fn remove_by_key(&mut self, key: HazKey) {
        self.0.retain(|(known, _)| *known != key);
    }

    fn len(&self) -> usize {
        self.0.len()
    }

    fn iter(&self) -> impl Iterator<Item = (HazKey, &Thing)> {
        self.0.iter().map(|(key, thing)| (*key, thing))
    }
}

/// Pieces on a strip of cloth.
pub(crate) struct Table<'a> {
    pub(crate) pieces: &'a Pieces,
    engine: CDEngine<Thing>,
    pub(crate) spots: Vec<Spot>,
    shapes: Vec<Arc<SPolygon>>,
    /// A shape of each stance to be moved about.
    moved: Vec<Vec<SPolygon>>,
    hit: Hit,
    /// Where the cloth ends; mm.
    pub(crate) length: f32,
    /// Positions that were evaluated so far.
    pub(crate) positions: u64,
}

impl<'a> Table<'a> {
    /// An empty table; nothing ever lies beyond `longest` mm.
    ///
    /// # Errors
    /// Where the engine refuses a box of that size.
    pub(crate) fn new(pieces: &'a Pieces, longest: f32) -> Option<Self> {
        let edge = 10.0 + pieces.cloth.spacing.get() as f32 / 1000.0 + longest * 0.01;
        let around = Rect::try_new(-edge, -edge, longest + edge, pieces.width() + edge).ok()?;
        let outside = Hazard::new(Thing::Beyond, Arc::new(SPolygon::from(around)));
        let config = CDEConfig {
            quadtree_depth: DEPTH,
            cd_threshold: EDGES,
            item_surrogate_config: crate::shape::SURROGATE,
        };
        let base = |piece| Arc::new(pieces.stance(piece, Spot::default()).shape.clone());
        let shapes = (0..pieces.len()).map(base).collect();
        let moved: Vec<Vec<SPolygon>> = pieces
            .kinds
            .iter()
            .map(|kind| kind.stances.iter().map(|some| some.shape.clone()).collect())
            .collect();
        Some(Self {
            engine: CDEngine::new(around.inflate_to_square(), vec![outside], config),
            spots: vec![Spot::default(); pieces.len()],
            shapes,
            moved,
            hit: Hit::default(),
            length: longest,
            positions: 0,
            pieces,
        })
    }

    /// Lays all pieces down.
    pub(crate) fn fill(&mut self, spots: &[Spot]) {
        for (piece, spot) in spots.iter().enumerate() {
            self.put(piece, *spot);
        }
    }

    /// Puts a piece down that was taken up.
    pub(crate) fn put(&mut self, piece: usize, spot: Spot) {
        let base = &self.pieces.stance(piece, spot).shape;
        let mut shape = base.clone();
        shape.transform_from(base, &by(spot));
        let shape = Arc::new(shape);
        self.spots[piece] = spot;
        self.shapes[piece] = Arc::clone(&shape);
        self.engine
            .register_hazard(Hazard::new(Thing::Piece(piece as u32), shape));
    }

    /// Takes a piece up.
    pub(crate) fn take(&mut self, piece: usize) {
        self.engine
            .deregister_hazard_by_entity(Thing::Piece(piece as u32));
    }

    /// How bad a piece, taken up before, would lie at a spot: the sum of `loss` over each piece it would lie over, or more than `bound`,
    /// as soon as it is. Counts as one position.
    pub(crate) fn collisions(
        &mut self,
        piece: usize,
        spot: Spot,
        bound: f32,
        mut loss: impl FnMut(usize, &SPolygon, &SPolygon) -> f32,
    ) -> f32 {
        self.positions += 1;
        let base = &self.pieces.stance(piece, spot).shape;
        let shape = &mut self.moved[self.pieces.pieces[piece]][spot.stance];
        shape.transform_from(base, &by(spot));
        let (shape, shapes) = (&*shape, &self.shapes);
        self.hit.0.clear();
        let mut sum = 0.0;
        let mut add = |thing: Thing| {
            if let Thing::Piece(other) = thing {
                sum += loss(other as usize, shape, &shapes[other as usize]);
            }
            sum > bound
        };
        let hit = &mut self.hit;
        let engine = &self.engine;
        if !engine.collect_surrogate_collisions_until(shape, &NoFilter, hit, &mut add) {
            let _ = engine.collect_poly_collisions_until(shape, &NoFilter, hit, &mut add);
        }
        sum
    }

    /// Range of the least corner of a stance: from 0 to these; nothing where it does not fit.
    pub(crate) fn room(&self, piece: usize, stance: usize) -> Option<(f32, f32)> {
        let (along, across) = self.pieces.kind(piece).stances[stance].extent;
        let room = (self.length - along, (self.pieces.width() - across).max(0.0));
        (room.0 >= 0.0).then_some(room)
    }

    /// The same spot, moved onto the cloth.
    pub(crate) fn clamped(&self, piece: usize, spot: Spot) -> Spot {
        let (along, across) = self.room(piece, spot.stance).unwrap_or_default();
        Spot {
            stance: spot.stance,
            along: spot.along.clamp(0.0, along),
            across: spot.across.clamp(0.0, across),
        }
    }
}

fn by(spot: Spot) -> Transformation {
    Transformation::from_translation((spot.along, spot.across))
}
