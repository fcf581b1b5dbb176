//! One cross colour's view of the cube: with the cross down, as if it were yellow.
//!
//! All tables are made once, for the yellow cross in the hold of a scramble (white up, green in front). A
//! [`Frame`] turns the colours of a real cube so that its cross colour becomes yellow; sets of tables for
//! other colours are not needed.

use std::sync::OnceLock;

use super::tracked::Tracked;
use super::turn::Turn;
use crate::cube::{
    BySlot, Colour, ColourSet, Corner, CornerAt, Edge, EdgeAt, Face, FaceTurn, Hold, Pair, PairSet, Slot,
    State,
};
use crate::hands::upright;

/// The cross colour for which tables are made.
pub(super) const MODEL: Colour = Colour::Yellow;

/// How pieces and turns of a cube with some cross colour are named in the tables.
#[derive(Debug)]
pub(super) struct Frame {
    /// The hold, cross down, whose faces name the turns.
    pub hold: Hold,
    /// For each tracked edge (the model's cross edges, then the edges of its pairs): the real edge, and
    /// the model's coordinate for each of its 24 coordinates.
    edges: [(Edge, [u8; EdgeAt::COUNT]); 8],
    /// The same for the corners of the model's pairs.
    corners: [(Corner, [u8; CornerAt::COUNT]); 4],
    /// For the slot of each pair of the cross, that of the model.
    slots: BySlot<Slot>,
}

impl Frame {
    /// The frame of a cross colour.
    pub fn of(cross: Colour) -> &'static Frame {
        static FRAMES: [OnceLock<Frame>; 6] = [const { OnceLock::new() }; 6];
        FRAMES[cross as usize]
            .get_or_init(|| Frame::new(Hold::ALL.into_iter().find(|&hold| down(hold) == cross).expect(DOWN)))
    }

    /// The frame of a cross colour in which this slot of the cross is the model's first.
    pub fn facing(cross: Colour, slot: Slot) -> &'static Frame {
        static FRAMES: [BySlot<OnceLock<Frame>>; 6] =
            [const { BySlot::new([const { OnceLock::new() }; 4]) }; 6];
        FRAMES[cross as usize][slot].get_or_init(|| {
            let pair = Pair::all(cross)[slot.index()];
            // The model's first slot lies where these faces of the hold meet.
            let first = Pair::all(MODEL)[0].sides().map(|side| Hold::START.face(side));
            let faces = |hold: &Hold| pair.sides().into_iter().all(|side| first.contains(&hold.face(side)));
            let mut holds = Hold::ALL.into_iter().filter(|&hold| down(hold) == cross);
            Frame::new(holds.find(faces).expect(DOWN))
        })
    }

    /// The frame of the cross that is down in this hold.
    fn new(hold: Hold) -> Frame {
        let cross = down(hold);
        // Model colours are faces of the scramble's hold, so a face of `hold` and a model colour are the
        // same thing twice.
        let real = |model: Colour| hold.colour(Hold::START.face(model));
        let model = |real: Colour| Hold::START.colour(hold.face(real));
        let edge = |edge: Edge| {
            let first = real(edge.colours()[0]);
            let there = Edge::with_colours(edge.colours().map(real).into_iter().collect());
            let there = there.expect("a rotation takes edges to edges");
            let map = std::array::from_fn(|i| {
                let at = EdgeAt::from_index(i);
                let centres: ColourSet = at.place().centres().into_iter().map(model).collect();
                let place = Edge::with_colours(centres).expect("a rotation takes edges to edges").home();
                let side = model(at.side_of(there, first).expect("the edge has this colour"));
                let twist = place.centres().iter().position(|&centre| centre == side);
                EdgeAt::new(place, twist.expect("the place has this side") as u8).index() as u8
            });
            (there, map)
        };
        let corner = |corner: Corner| {
            let first = real(corner.colours()[0]);
            let there = Corner::with_colours(corner.colours().map(real).into_iter().collect());
            let there = there.expect("a rotation takes corners to corners");
            let map = std::array::from_fn(|i| {
                let at = CornerAt::from_index(i);
                let centres: ColourSet = at.place().centres().into_iter().map(model).collect();
                let place =
                    Corner::with_colours(centres).expect("a rotation takes corners to corners").home();
                let side = model(at.side_of(there, first).expect("the corner has this colour"));
                let twist = place.centres().iter().position(|&centre| centre == side);
                CornerAt::new(place, twist.expect("the place has this side") as u8).index() as u8
            });
            (there, map)
        };
        let pairs = Pair::all(MODEL);
        let cross_edges = Pair::cross_edges(MODEL);
        let edges =
            [0, 1, 2, 3, 4, 5, 6, 7].map(|i| edge(if i < 4 { cross_edges[i] } else { pairs[i - 4].edge }));
        let corners = pairs.map(|pair| corner(pair.corner));
        let model_slot = |pair: Pair| {
            let mut slots = Slot::ALL.into_iter().zip(&corners);
            slots.find(|(_, (there, _))| *there == pair.corner).expect("pairs go to pairs").0
        };
        let slots = BySlot::new(Pair::all(cross).map(model_slot));
        Frame { hold, edges, corners, slots }
    }

    /// What the search tracks of a state.
    pub fn tracked(&self, state: &State) -> Tracked {
        Tracked::new(
            self.edges.each_ref().map(|(edge, map)| map[state.edge(*edge).index()]),
            self.corners.each_ref().map(|(corner, map)| map[state.corner(*corner).index()]),
        )
    }

    /// The model's slot for one of the cross.
    pub fn slot(&self, slot: Slot) -> Slot {
        self.slots[slot]
    }

    /// A set of the model's pairs as a set of pairs of the cross.
    pub fn pairs(&self, slots: PairSet) -> PairSet {
        PairSet::ALL.filter(|slot| slots.contains(self.slot(slot)))
    }

    /// How a hold of the real cube is one of the model.
    pub fn model_hold(&self, hold: Hold) -> Hold {
        let model = |face| Hold::START.colour(self.hold.face(hold.colour(face)));
        Hold::new(model(Face::U), model(Face::F)).expect("a rotation turns holds to holds")
    }

    /// Which of the holds with the model's cross down, in the order of [`upright`], a hold of the real cube is; `None` if
    /// the cross is not down in it.
    pub fn grip(&self, hold: Hold) -> Option<usize> {
        let model = self.model_hold(hold);
        upright(MODEL).iter().position(|&other| other == model)
    }

    /// A turn of the model as a turn of the real cube.
    pub fn face_turn(&self, turn: Turn) -> FaceTurn {
        FaceTurn { centre: self.hold.colour(turn.face()), amount: turn.amount() }
    }
}

/// The colour that is down.
const fn down(hold: Hold) -> Colour {
    hold.colour(Face::D)
}

const DOWN: &str = "every colour is down in four holds, and they are a quarter turn apart";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Amount;
    use crate::search::goal::Goal;
    use crate::search::tracked::Turns;

    #[test]
    fn turning_and_naming_commute_for_every_cross_colour() {
        for cross in Colour::ALL {
            let frame = Frame::of(cross);
            let goal = Goal::get();
            assert_eq!(frame.tracked(&State::SOLVED), Tracked::solved());
            let mut state = State::SOLVED;
            let mut tracked = Tracked::solved();
            // A walk long enough to meet every turn in many positions.
            for step in 0..2000_usize {
                let turn = Turn::ALL[(step * step + step / 7) % Turn::COUNT];
                state.turn(frame.face_turn(turn));
                tracked = Turns::get().turned(tracked, turn);
                assert_eq!(frame.tracked(&state), tracked);
                assert_eq!(goal.cross_solved(tracked.packed()), state.cross_solved(cross));
            }
        }
    }

    #[test]
    fn a_solved_pair_is_the_same_pair_in_the_model() {
        for cross in Colour::ALL {
            let frame = Frame::of(cross);
            for pair in Pair::all(cross) {
                // Turning the sides of one pair away leaves only the pair across solved.
                let across = pair.sides().map(Colour::opposite);
                let state = pair.sides().into_iter().fold(State::SOLVED, |state, centre| {
                    state.turned(FaceTurn { centre, amount: Amount::Half })
                });
                let solved = frame.pairs(Goal::get().solved_pairs(frame.tracked(&state).packed()));
                assert!(!solved.contains(pair.slot()));
                assert_eq!(solved.len(), 1);
                let left = Pair::all(cross)[solved.first().expect("one").index()];
                assert!(across.iter().all(|side| left.sides().contains(side)));
            }
        }
    }
}
