//! What has to hold of every step, told from one fact to the next, on steps that are made up. Whether the facts are right is
//! held by second implementations in other crates.

use std::collections::HashSet;

use super::grades::{Deduction, Grade, Looked};
use super::reasons::{Clue, NotHere, Why, of_kind};
use super::{Glimpse, InSight, Moments, Piece, Pieces, Watch};
use crate::cube::{
    Amount, Axis, Corner, CornerAt, Edge, EdgeAt, Face, FaceSet, Hold, Move, Pair, Position, State,
};

/// The numbers of a xorshift generator (G. Marsaglia, "Xorshift RNGs", 2003), below so many.
struct Random(u64);

impl Random {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % n
    }

    /// Turns of a side out, of the top, and back, which leave the cross as it was; now and then with a rotation before.
    fn insertions(&mut self, n: usize, moves: &mut Vec<Move>) {
        for _ in 0..n {
            if self.below(5) == 0 {
                moves.push(Move::Rotation(Axis::Y, Amount::ALL[self.below(3)]));
            }
            let side = [Face::R, Face::L, Face::F, Face::B][self.below(4)];
            let [out, back] =
                [[Amount::Quarter, Amount::Back], [Amount::Back, Amount::Quarter]][self.below(2)];
            moves.extend([
                Move::Turn(Face::U, Amount::ALL[self.below(3)]),
                Move::Turn(side, out),
                Move::Turn(Face::U, Amount::ALL[self.below(3)]),
                Move::Turn(side, back),
            ]);
        }
    }
}

/// Calls with made-up steps, in every grip, with one to four pairs open, and with what is in sight.
fn of_each_step(mut look: impl FnMut(&Looked<'_>, FaceSet)) {
    let sight = FaceSet::of(&[Face::U, Face::F, Face::R]);
    let mut random = Random(2026);
    for n in 0..720 {
        let hold = Hold::ALL[n % 24];
        let cross = hold.colour(Face::D);
        let (mut before, mut moves) = (Vec::new(), Vec::new());
        random.insertions(8, &mut before);
        random.insertions(1 + n % 3, &mut moves);
        let start = Position { state: State::SOLVED, hold }.after(before);
        let positions: Vec<Position> =
            (0..=moves.len()).map(|played| start.after(moves[..played].iter().copied())).collect();
        let mut open = Pair::all(cross).to_vec();
        open.rotate_left(random.below(4));
        open.truncate(1 + n % 4);
        let in_hand = if n % 8 > 3 { &open[..1] } else { &[] };
        look(&Looked::new(Moments::new(&positions, &moves), cross, &open, in_hand, sight), sight);
    }
}

/// A piece has a grade at every moment, and is found at the first at which that is more than hidden.
#[test]
fn a_piece_is_found_when_its_grade_is_first_more_than_hidden() {
    let (mut plain, mut deduced, mut by_what_was_found) = (0, 0, 0);
    of_each_step(|looked, sight| {
        let positions = looked.step().positions();
        for piece in looked.wanted.iter() {
            let grades: Vec<Grade> = (0..positions.len()).map(|offset| looked.grade(piece, offset)).collect();
            let first = |wanted: &dyn Fn(Grade) -> bool| grades.iter().position(|&grade| wanted(grade));
            let found = looked.found(piece);
            assert_eq!(found.found(), first(&|grade| grade != Grade::Hidden), "{piece:?}");
            assert_eq!(found.plain, first(&|grade| grade == Grade::Plain), "{piece:?}");
            plain += usize::from(found.deduced.is_none() && found.plain.is_some());
            for (offset, position) in positions.iter().enumerate() {
                let in_sight = InSight::new(position.hold, sight).sees(piece, position);
                assert_eq!(grades[offset] == Grade::Plain, in_sight);
                assert_eq!(looked.found_by(piece, offset), found.found().is_some_and(|at| at <= offset));
                assert!(looked.followed(piece, offset) == looked.found_by(piece, offset));
            }
            if let Some((offset, how)) = found.deduced {
                deduced += 1;
                let before = looked.found_before(offset);
                by_what_was_found += usize::from(before.len() > looked.given.len());
                assert!(!before.contains(piece) && before.is_superset(looked.given));
                assert!(looked.wanted.iter().all(|other| {
                    before.contains(other) == looked.found(other).found().is_some_and(|at| at < offset)
                }));
                let kind =
                    |other: &Piece| matches!(other, Piece::Corner(_)) == matches!(piece, Piece::Corner(_));
                let last = looked.wanted.iter().filter(kind).count() == 1;
                assert!(how == Deduction::OneSticker || last, "the only place is the last one's");
            }
        }
        for piece in looked.given.iter() {
            assert!(looked.found(piece).found().is_none() && looked.followed(piece, 0));
        }
    });
    assert!(
        plain > 1000 && deduced > 300 && by_what_was_found > 100,
        "{plain} {deduced} {by_what_was_found}"
    );
}

/// A reason tells of everything that the piece could be, or of every place where it could lie, and what it tells is so.
#[test]
fn a_reason_leaves_nothing_out() {
    let (mut one_sticker, mut only_place, mut shown) = (0, 0, 0);
    of_each_step(|looked, sight| {
        for piece in looked.wanted.iter() {
            let Some(reason) = looked.reason(piece) else {
                assert!(looked.found(piece).deduced.is_none());
                continue;
            };
            let Some((offset, how)) = looked.found(piece).deduced else { panic!("a reason for nothing") };
            let position = &looked.step().positions()[offset];
            let in_sight = InSight::new(position.hold, sight);
            assert_eq!((reason.piece, reason.offset, reason.place), (piece, offset, piece.place(position)));
            let others: Vec<Piece> = of_kind(piece).into_iter().filter(|&other| other != piece).collect();
            let of_cross = Pair::cross_edges(looked.cross).map(Piece::Edge);
            let is_so = |other: Piece, why: Why| match why {
                Why::LiesOpen { place } => in_sight.sees(other, position) && place == other.place(position),
                Why::FoundBefore { offset: found, place } => {
                    !in_sight.sees(other, position)
                        && place == other.place(position)
                        && found < offset
                        && looked.found(other).found() == Some(found)
                }
                Why::Cross => of_cross.contains(&other),
                Why::InHand => looked.in_hand.contains(other),
                Why::Solved => {
                    looked.given.contains(other)
                        && !looked.in_hand.contains(other)
                        && !of_cross.contains(&other)
                }
            };
            match reason.clue {
                Clue::OneSticker { colour, face, ruled_out } => {
                    assert_eq!(how, Deduction::OneSticker);
                    assert_eq!(looked.stickers(piece, offset), [(colour, face)]);
                    let mut told: Vec<Piece> = ruled_out.iter().map(|out| out.piece).collect();
                    told.sort_unstable();
                    let could = |other: &Piece| other.colours().contains(colour);
                    assert_eq!(told, others.into_iter().filter(could).collect::<Vec<Piece>>());
                    assert!(ruled_out.iter().all(|out| is_so(out.piece, out.why)));
                    one_sticker += 1;
                }
                Clue::OnlyPlace { shows, elsewhere } => {
                    assert_eq!(how, Deduction::OnlyPlace);
                    assert_eq!(shows, looked.stickers(piece, offset).first().copied());
                    let mut places: Vec<_> = elsewhere.iter().map(|elsewhere| elsewhere.place).collect();
                    places.sort_unstable();
                    let mut all: Vec<_> = others.iter().map(|other| other.place(position)).collect();
                    all.sort_unstable();
                    assert_eq!(places, all);
                    for elsewhere in elsewhere {
                        let there = |other: &&Piece| other.place(position) == elsewhere.place;
                        let other = *others.iter().find(there).expect("a piece in each place");
                        match elsewhere.not {
                            NotHere::Holds { why, piece } => assert!(piece == other && is_so(other, why)),
                            NotHere::Shows { colour, face } => {
                                assert!(looked.stickers(other, offset).contains(&(colour, face)));
                                assert!(!piece.colours().contains(colour));
                                shown += 1;
                            }
                        }
                    }
                    only_place += 1;
                }
            }
        }
    });
    assert!(one_sticker > 300 && only_place > 30 && shown > 20, "{one_sticker} {only_place} {shown}");
}

/// Whether everybody finds a seat, each in one of those that would do, and `p` in that of `q`: tried out one by one, making
/// room where that can be done.
fn seats_for_all(seats: &[Vec<bool>], p: usize, q: usize) -> bool {
    fn seat(who: usize, seats: &[Vec<bool>], taken: &mut [Option<usize>], asked: &mut [bool]) -> bool {
        (0..seats.len()).any(|place| {
            if !seats[who][place] || std::mem::replace(&mut asked[place], true) {
                return false;
            }
            let free = taken[place].is_none_or(|other| seat(other, seats, taken, asked));
            if free {
                taken[place] = Some(who);
            }
            free
        })
    }
    let mut taken = vec![None; seats.len()];
    seats[p][q]
        && (0..seats.len()).filter(|&who| who != p).all(|who| {
            let mut asked = vec![false; seats.len()];
            asked[q] = true;
            seat(who, seats, &mut taken, &mut asked)
        })
}

/// Whether a piece, in one way or another, shows the same as the one that really is in that place.
fn could_be(piece: Piece, really: Piece, position: &Position, sight: FaceSet) -> bool {
    let centres: Vec<_> = sight.iter().map(|face| position.hold.colour(face)).collect();
    match (piece, really) {
        (Piece::Corner(piece), Piece::Corner(really)) => {
            let real = position.state.corner(really);
            let mut ways = (0..24).map(CornerAt::from_index).filter(|way| way.place() == real.place());
            let same = |way: CornerAt, centre| way.shows(piece, centre) == real.shows(really, centre);
            ways.any(|way| centres.iter().all(|&centre| same(way, centre)))
        }
        (Piece::Edge(piece), Piece::Edge(really)) => {
            let real = position.state.edge(really);
            let mut ways = (0..24).map(EdgeAt::from_index).filter(|way| way.place() == real.place());
            let same = |way: EdgeAt, centre| way.shows(piece, centre) == real.shows(really, centre);
            ways.any(|way| centres.iter().all(|&centre| same(way, centre)))
        }
        _ => false,
    }
}

/// Stickers in sight, known, oriented, possible places.
fn what<At>(glimpse: &Glimpse<At>) -> (usize, bool, bool, usize) {
    (glimpse.stickers, glimpse.known, glimpse.oriented, glimpse.possible)
}

/// Known is what has one place left, in whatever way the others are seated.
#[test]
fn known_is_what_has_one_place_left() {
    let (mut n, mut by_elimination) = (0, 0);
    let (mut holds, mut open) = (HashSet::new(), HashSet::new());
    of_each_step(|looked, sight| {
        n += 1;
        // A number that goes through all grips and numbers of open pairs alike.
        if n % 23 != 0 {
            return;
        }
        holds.insert(looked.step().positions()[0].hold);
        open.insert((looked.wanted.len(), looked.in_hand.len()));
        let positions = looked.step().positions();
        let watch = Watch::new(positions, looked.given, sight);
        assert!(watch.len() == positions.len() && !watch.is_empty());
        let (mut known, mut oriented) = (looked.given, looked.given);
        for (offset, position) in positions.iter().enumerate() {
            let before = known;
            let in_sight = InSight::new(position.hold, sight);
            let kinds = [Corner::ALL.map(Piece::Corner).to_vec(), Edge::ALL.map(Piece::Edge).to_vec()];
            let mut possible = Vec::new();
            for kind in &kinds {
                let unknown: Vec<Piece> =
                    kind.iter().copied().filter(|&piece| !before.contains(piece)).collect();
                let row = |&piece: &Piece| {
                    unknown.iter().map(|&really| could_be(piece, really, position, sight)).collect()
                };
                let seats: Vec<Vec<bool>> = unknown.iter().map(row).collect();
                for (p, &piece) in unknown.iter().enumerate() {
                    let places: Vec<Piece> = (0..unknown.len())
                        .filter(|&q| seats_for_all(&seats, p, q))
                        .map(|q| unknown[q])
                        .collect();
                    assert!(places.contains(&piece));
                    if places.len() == 1 {
                        known = known.with(piece);
                        by_elimination += usize::from(!in_sight.sees(piece, position));
                    }
                    possible.push((piece, places));
                }
            }
            for piece in kinds.concat() {
                let n_stickers = looked.stickers(piece, offset).len();
                if known.contains(piece) && n_stickers > 0 {
                    oriented = oriented.with(piece);
                }
                let places = possible.iter().find(|(one, _)| *one == piece);
                let places = places.map_or(vec![piece], |(_, places)| places.clone());
                let mut wanted: Vec<_> = places.iter().map(|place| place.place(position)).collect();
                wanted.sort_unstable();
                let (mut told, glimpse): (Vec<_>, _) = match piece {
                    Piece::Corner(corner) => {
                        let glimpse =
                            watch.corner_track(corner).nth(offset).expect("a glimpse of each moment");
                        let places = watch.corner_places(corner, offset);
                        let told = places
                            .map(|place| Piece::Corner(position.state.corner_in(place)).place(position));
                        assert_eq!(glimpse.at, position.state.corner(corner));
                        (told.collect(), what(&glimpse))
                    }
                    Piece::Edge(edge) => {
                        let glimpse = watch.edge_track(edge).nth(offset).expect("a glimpse of each moment");
                        let places = watch.edge_places(edge, offset);
                        let told =
                            places.map(|place| Piece::Edge(position.state.edge_in(place)).place(position));
                        assert_eq!(glimpse.at, position.state.edge(edge));
                        (told.collect(), what(&glimpse))
                    }
                };
                told.sort_unstable();
                assert_eq!(told, wanted, "{piece:?}");
                assert_eq!(
                    glimpse,
                    (n_stickers, known.contains(piece), oriented.contains(piece), places.len())
                );
                assert_eq!(watch.known_at(offset).contains(piece), known.contains(piece));
                let found = watch.piece(piece);
                assert_eq!(found.known.is_some_and(|at| at <= offset), known.contains(piece));
                assert_eq!(found.oriented.is_some_and(|at| at <= offset), oriented.contains(piece));
                assert!(found.seen.is_none_or(|at| at != offset) || in_sight.sees(piece, position));
            }
        }
        // What is seen is known, and what is found is.
        for piece in looked.wanted.iter() {
            let (found, watched) = (looked.found(piece), watch.piece(piece));
            assert_eq!(found.plain, watched.seen);
            assert!(found.found().is_none_or(|at| watched.known.is_some_and(|known| known <= at)));
        }
        let all = watch.len() - 1;
        assert_eq!(watch.known_at(all), known);
        assert!(Corner::ALL.iter().all(|&corner| watch.corner(corner) == watch.piece(Piece::Corner(corner))));
        assert!(Edge::ALL.iter().all(|&edge| watch.edge(edge) == watch.piece(Piece::Edge(edge))));
    });
    assert!(holds.len() > 15 && open.len() > 5, "{holds:?} {open:?}");
    assert!(by_elimination > 50, "{by_elimination}");
}

#[test]
fn sets_of_pieces_take_in_what_is_solved() {
    assert_eq!(Pieces::solved(&Position::SOLVED.state).len(), 20);
    let cross = crate::cube::Colour::White;
    assert_eq!(Pieces::cross_and(cross, []).len(), 4);
    assert_eq!(Pieces::cross_and(cross, Pair::all(cross)).len(), 12);
}
