//! Positions of the fast cube as permutations of 54 numbered stickers, to be compared with other programs.
//!
//! The numbering is that of "Analyzing Rubik's Cube with GAP"; see [`space::number`].

use cornerwise::cube::{Colour, ColourSet, Corner, Edge, Face, Hold, Position};

use super::space::{self, Space, Sticker, Vector};

/// For each place, 1 to 54, the number of the place where the sticker that started there is now. It started
/// there on a solved cube held white up, green in front.
pub fn image(position: &Position) -> Vec<usize> {
    let solved = Space::solved();
    solved.stickers.iter().map(|sticker| destination(position, &solved, sticker)).collect()
}

fn destination(position: &Position, solved: &Space, sticker: &Sticker) -> usize {
    let here = solved.stickers.iter().filter(|other| other.position == sticker.position);
    let colours: ColourSet = here.map(|other| other.colour).collect();
    let hold = position.hold;
    let number = |faces: &[Face], side: Colour| {
        let cubie = faces.iter().map(|&face| space::direction(face)).fold([0; 3], add);
        space::number(cubie, space::direction(hold.face(side)))
    };
    if let Some(corner) = Corner::with_colours(colours) {
        let at = position.state.corner(corner);
        number(&at.place().faces(hold), at.side_of(corner, sticker.colour).expect("its colour"))
    } else if let Some(edge) = Edge::with_colours(colours) {
        let at = position.state.edge(edge);
        number(&at.place().faces(hold), at.side_of(edge, sticker.colour).expect("its colour"))
    } else {
        number(&[hold.face(sticker.colour)], sticker.colour)
    }
}

fn add(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// An image of `size` places, written as cycles such as `(1,3,8,6)(2,5,7,4)`.
pub fn from_cycles(cycles: &str, size: usize) -> Vec<usize> {
    let mut image: Vec<usize> = (1..=size).collect();
    for cycle in cycles.split(['(', ')']).filter(|part| !part.trim().is_empty()) {
        let places: Vec<usize> = cycle.split(',').map(|n| n.trim().parse().expect("a number")).collect();
        for (i, &place) in places.iter().enumerate() {
            image[place - 1] = places[(i + 1) % places.len()];
        }
    }
    image
}

/// An image written as a list of numbers.
pub fn from_list(list: &str) -> Vec<usize> {
    list.split_whitespace().map(|n| n.parse().expect("a number")).collect()
}

/// Whether a permutation of the 48 stickers (centres fixed) can be reached by turning, and if not, why: the
/// stickers must move in pieces, the corners' twists add up to whole turns, the flipped edges are even in
/// number, and corners and edges are both evenly or both oddly permuted.
pub fn check_legal(image: &[usize]) -> Result<(), &'static str> {
    let solved = Space::solved();
    // The stickers of a place, by number, clockwise as seen from outside, those of U and D first: the faces
    // of UFR, for one, come in the order U, R, F (a determinant test on the three normals).
    let mut places: Vec<Vec<usize>> = Vec::new();
    for sticker in &solved.stickers[..48] {
        let mut at: Vec<&Sticker> =
            solved.stickers.iter().filter(|other| other.position == sticker.position).collect();
        at.sort_by_key(|s| std::cmp::Reverse((s.normal[1].abs(), s.normal[2].abs())));
        if let [a, b, c] = at[..]
            && determinant(a.normal, b.normal, c.normal) > 0
        {
            at.swap(1, 2);
        }
        let numbers: Vec<usize> = at.iter().map(|s| s.origin).collect();
        if !places.contains(&numbers) {
            places.push(numbers);
        }
    }
    let (mut twist, mut flip, mut parity) = (0, 0, [0, 0]);
    let mut goes: Vec<usize> = Vec::new();
    for place in &places {
        let to: Vec<usize> = place.iter().map(|&n| image[n - 1]).collect();
        let shift = |there: &Vec<usize>| {
            let n = there.len();
            (n == to.len()).then(|| (0..n).find(|s| (0..n).all(|i| there[(i + s) % n] == to[i]))).flatten()
        };
        let found = places.iter().enumerate().find_map(|(i, there)| Some((i, shift(there)?)));
        let (there, shift) = found.ok_or("the stickers of one piece are parted or in a mirror")?;
        *(if place.len() == 3 { &mut twist } else { &mut flip }) += shift;
        goes.push(there);
    }
    for (i, place) in places.iter().enumerate() {
        // A permutation is odd by as many transpositions as it has inversions.
        let kind = place.len() - 2;
        parity[kind] += (0..i).filter(|&j| places[j].len() == place.len() && goes[j] > goes[i]).count();
    }
    if twist % 3 != 0 {
        Err("the corners' twists do not add up")
    } else if flip % 2 != 0 {
        Err("an odd number of edges is flipped")
    } else if parity[0] % 2 != parity[1] % 2 {
        Err("corners and edges differ in parity")
    } else {
        Ok(())
    }
}

fn determinant(a: Vector, b: Vector, c: Vector) -> i8 {
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
}

/// The 24 holds of a solved cube.
pub fn solved_positions() -> Vec<Position> {
    Hold::ALL.into_iter().map(|hold| Position { hold, ..Position::SOLVED }).collect()
}
