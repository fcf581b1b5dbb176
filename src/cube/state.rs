//! Where every piece is ([`State`]), and that together with the hold ([`Position`]).

use super::{Colour, Corner, CornerAt, CornerPlace, Edge, EdgeAt, EdgePlace, FaceTurn, Hold, Move, Pair};

/// Where every piece sits, relative to the centres.
///
/// Made by turning a solved cube, or of an arrangement that is checked ([`State::arranged`]), so every `State` is one that a
/// real cube can be in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct State {
    corners: [CornerAt; 8],
    edges: [EdgeAt; 12],
}

/// For each turn, where a corner that sits and is twisted in one of 24 ways goes.
static CORNER_TURNS: [[CornerAt; 24]; 18] = corner_turns();
/// For each turn, where an edge that sits and is flipped in one of 24 ways goes.
static EDGE_TURNS: [[EdgeAt; 24]; 18] = edge_turns();

impl CornerAt {
    /// Where a corner that sits so goes when a layer is turned.
    #[must_use]
    pub const fn turned(self, turn: FaceTurn) -> CornerAt {
        CORNER_TURNS[turn.index()][self.index()]
    }
}

impl EdgeAt {
    /// Where an edge that sits so goes when a layer is turned.
    #[must_use]
    pub const fn turned(self, turn: FaceTurn) -> EdgeAt {
        EDGE_TURNS[turn.index()][self.index()]
    }
}

impl State {
    /// The solved cube.
    pub const SOLVED: State = {
        let mut corners = [CornerAt::home(Corner::ALL[0]); 8];
        let mut edges = [EdgeAt::home(Edge::ALL[0]); 12];
        let mut i = 0;
        while i < 12 {
            if i < 8 {
                corners[i] = CornerAt::home(Corner::ALL[i]);
            }
            edges[i] = EdgeAt::home(Edge::ALL[i]);
            i += 1;
        }
        State { corners, edges }
    };

    /// The state in which every corner and every edge sits so, in the order of their [`index`](Corner::index); `None` if no
    /// turning leads there: two pieces in one place, twists or flips that do not add up, or two pieces exchanged.
    #[must_use]
    pub fn arranged(corners: [CornerAt; 8], edges: [EdgeAt; 12]) -> Option<State> {
        let corner_places = corners.map(|at| at.place().index());
        let edge_places = edges.map(|at| at.place().index());
        let twists: u32 = corners.iter().map(|at| u32::from(at.twist())).sum();
        let flips: u32 = edges.iter().map(|at| u32::from(at.twist())).sum();
        let (corner_swaps, edge_swaps) = (is_odd(&corner_places)?, is_odd(&edge_places)?);
        let fits = twists.is_multiple_of(3) && flips.is_multiple_of(2) && corner_swaps == edge_swaps;
        fits.then_some(State { corners, edges })
    }

    /// Turns one layer.
    pub fn turn(&mut self, turn: FaceTurn) {
        let corners = &CORNER_TURNS[turn.index()];
        let edges = &EDGE_TURNS[turn.index()];
        for at in &mut self.corners {
            *at = corners[at.index()];
        }
        for at in &mut self.edges {
            *at = edges[at.index()];
        }
    }

    /// The state after one layer is turned.
    #[must_use]
    pub fn turned(mut self, turn: FaceTurn) -> State {
        self.turn(turn);
        self
    }

    /// Where a corner sits and how.
    #[must_use]
    pub const fn corner(&self, corner: Corner) -> CornerAt {
        self.corners[corner.index()]
    }

    /// Where an edge sits and how.
    #[must_use]
    pub const fn edge(&self, edge: Edge) -> EdgeAt {
        self.edges[edge.index()]
    }

    /// The corner that sits in `place`.
    #[must_use]
    pub fn corner_in(&self, place: CornerPlace) -> Corner {
        Corner::ALL
            .into_iter()
            .find(|&corner| self.corner(corner).place() == place)
            .expect("every place holds a corner")
    }

    /// The edge that sits in `place`.
    #[must_use]
    pub fn edge_in(&self, place: EdgePlace) -> Edge {
        Edge::ALL
            .into_iter()
            .find(|&edge| self.edge(edge).place() == place)
            .expect("every place holds an edge")
    }

    /// Whether the corner is in its place and untwisted.
    #[must_use]
    pub fn corner_solved(&self, corner: Corner) -> bool {
        self.corner(corner) == CornerAt::home(corner)
    }

    /// Whether the edge is in its place and unflipped.
    #[must_use]
    pub fn edge_solved(&self, edge: Edge) -> bool {
        self.edge(edge) == EdgeAt::home(edge)
    }

    /// Whether the four edges of the cross of this colour are solved.
    #[must_use]
    pub fn cross_solved(&self, cross: Colour) -> bool {
        Pair::cross_edges(cross).into_iter().all(|edge| self.edge_solved(edge))
    }

    /// Whether both pieces of the pair are solved.
    #[must_use]
    pub fn pair_solved(&self, pair: Pair) -> bool {
        self.corner_solved(pair.corner) && self.edge_solved(pair.edge)
    }

    /// Whether every piece is solved.
    #[must_use]
    pub fn is_solved(&self) -> bool {
        *self == State::SOLVED
    }
}

/// A state and how it is held: what there is at one moment of a solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// Where the pieces are.
    pub state: State,
    /// How the cube sits in the hands.
    pub hold: Hold,
}

impl Position {
    /// A solved cube held white up, green in front.
    pub const SOLVED: Position = Position { state: State::SOLVED, hold: Hold::START };

    /// Plays one written move.
    pub fn play(&mut self, mv: Move) {
        let resolved = mv.resolve(self.hold);
        for turn in resolved.turns() {
            self.state.turn(turn);
        }
        self.hold = resolved.hold;
    }

    /// The position after the moves, played in order.
    #[must_use]
    pub fn after(mut self, moves: impl IntoIterator<Item = Move>) -> Position {
        for mv in moves {
            self.play(mv);
        }
        self
    }
}

/// Whether a permutation takes an odd number of exchanges; `None` if it is none.
fn is_odd(order: &[usize]) -> Option<bool> {
    let mut seen = 0_u32;
    let mut odd = false;
    for (i, &item) in order.iter().enumerate() {
        if seen >> item & 1 != 0 {
            return None;
        }
        seen |= 1 << item;
        odd ^= order[i + 1..].iter().filter(|&&later| later < item).count() % 2 != 0;
    }
    Some(odd)
}

/// Where the side of direction `from` goes when the layer of `centre` turns clockwise `quarters` times.
const fn carried(centre: Colour, quarters: usize, from: Colour) -> Colour {
    let ring = centre.ring();
    let mut i = 0;
    while i < 4 {
        if ring[i] as u8 == from as u8 {
            return ring[(i + quarters) % 4];
        }
        i += 1;
    }
    from
}

const fn has(centres: &[Colour], centre: Colour) -> bool {
    let mut i = 0;
    while i < centres.len() {
        if centres[i] as u8 == centre as u8 {
            return true;
        }
        i += 1;
    }
    false
}

const fn corner_turns() -> [[CornerAt; 24]; 18] {
    let mut table = [[CornerAt::from_index(0); 24]; 18];
    let mut t = 0;
    while t < 18 {
        let turn = FaceTurn::ALL[t];
        let mut i = 0;
        while i < 24 {
            let at = CornerAt::from_index(i);
            let centres = at.place().centres();
            table[t][i] = at;
            if has(&centres, turn.centre) {
                // Follow all three sides; the place that has them all, in this cyclic order, is where it goes.
                let mut to = [centres[0]; 3];
                let mut k = 0;
                while k < 3 {
                    to[k] = carried(turn.centre, turn.amount as usize, centres[k]);
                    k += 1;
                }
                let mut p = 0;
                while p < 8 {
                    let place = CornerPlace::ALL[p];
                    let there = place.centres();
                    if has(&to, there[0]) && has(&to, there[1]) && has(&to, there[2]) {
                        // The side that carried the first colour.
                        let side = to[at.twist() as usize];
                        let mut twist = 0;
                        while there[twist] as u8 != side as u8 {
                            twist += 1;
                        }
                        table[t][i] = CornerAt::new(place, twist as u8);
                    }
                    p += 1;
                }
            }
            i += 1;
        }
        t += 1;
    }
    table
}

const fn edge_turns() -> [[EdgeAt; 24]; 18] {
    let mut table = [[EdgeAt::from_index(0); 24]; 18];
    let mut t = 0;
    while t < 18 {
        let turn = FaceTurn::ALL[t];
        let mut i = 0;
        while i < 24 {
            let at = EdgeAt::from_index(i);
            let centres = at.place().centres();
            table[t][i] = at;
            if has(&centres, turn.centre) {
                let to = [
                    carried(turn.centre, turn.amount as usize, centres[0]),
                    carried(turn.centre, turn.amount as usize, centres[1]),
                ];
                let mut p = 0;
                while p < 12 {
                    let place = EdgePlace::ALL[p];
                    let there = place.centres();
                    if has(&to, there[0]) && has(&to, there[1]) {
                        let side = to[at.twist() as usize];
                        table[t][i] = EdgeAt::new(place, (there[1] as u8 == side as u8) as u8);
                    }
                    p += 1;
                }
            }
            i += 1;
        }
        t += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Amount, Face};

    /// The smallest n > 0 for which playing the moves n times gives a solved state and the starting hold.
    fn order(moves: &[Move]) -> usize {
        let mut position = Position::SOLVED;
        for n in 1..=1260 {
            position = position.after(moves.iter().copied());
            if position == Position::SOLVED {
                return n;
            }
        }
        unreachable!("no element has an order above 1260");
    }

    /// Whatever turns lead to is an arrangement, and a twist, a flip or an exchange away there is none.
    #[test]
    fn arrangements_are_those_that_turns_lead_to() {
        let mut state = State::SOLVED;
        for i in 0..500_usize {
            state.turn(FaceTurn::ALL[(i * i + i / 3) % 18]);
            let State { corners, edges } = state;
            assert_eq!(State::arranged(corners, edges), Some(state));
            let mut other = corners;
            other[i % 8] = CornerAt::new(corners[i % 8].place(), (corners[i % 8].twist() + 1) % 3);
            assert_eq!(State::arranged(other, edges), None);
            let mut other = edges;
            other[i % 12] = EdgeAt::new(edges[i % 12].place(), 1 - edges[i % 12].twist());
            assert_eq!(State::arranged(corners, other), None);
            let mut other = edges;
            other.swap(i % 12, (i + 1) % 12);
            assert_eq!(State::arranged(corners, other), None);
            other[i % 12] = other[(i + 1) % 12];
            assert_eq!(State::arranged(corners, other), None);
        }
    }

    #[test]
    fn every_move_has_order_four_or_two() {
        for mv in Move::ALL {
            let half = matches!(
                mv,
                Move::Turn(_, Amount::Half)
                    | Move::Wide(_, Amount::Half)
                    | Move::Slice(_, Amount::Half)
                    | Move::Rotation(_, Amount::Half)
            );
            assert_eq!(order(&[mv]), if half { 2 } else { 4 }, "{mv:?}");
            assert_eq!(Position::SOLVED.after([mv, mv.inverse()]), Position::SOLVED);
        }
    }

    #[test]
    fn well_known_orders() {
        let q = Amount::Quarter;
        let b = Amount::Back;
        let turn = Move::Turn;
        use Face::{B, D, R, U};
        // Common practice, no source.
        assert_eq!(order(&[turn(R, q), turn(U, q), turn(R, b), turn(U, b)]), 6);
        assert_eq!(order(&[turn(R, q), turn(U, q)]), 105);
        // D. Joyner, "Adventures in Group Theory", from memory: the largest order there is.
        let half = Amount::Half;
        assert_eq!(order(&[turn(R, q), turn(U, half), turn(D, b), turn(B, q), turn(D, b)]), 1260);
    }
}
