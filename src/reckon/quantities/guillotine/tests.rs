//! Cuttings held against boards cut up by random cuts from edge to edge, whose best answer is therefore
//! known, and against boards worked by hand.

use super::cut_up::{BOARD, KERF, Made, Rule, cut_up};
use super::*;

/// Whether the pieces of a place come apart by cuts from edge to edge, the saw's width between them.
fn comes_apart(pieces: &[Rect]) -> bool {
    if pieces.len() < 2 {
        return true;
    }
    type Side = fn(&Rect) -> (i64, i64);
    let ways: [Side; 2] = [|r| (r.x, r.x + r.along), |r| (r.y, r.y + r.across)];
    ways.iter().any(|side| {
        let mut cuts: Vec<i64> = pieces.iter().map(|r| side(r).1).collect();
        cuts.sort_unstable();
        cuts.iter().any(|cut| {
            let (low, high): (Vec<Rect>, Vec<Rect>) =
                pieces.iter().partition(|r| side(r).1 <= *cut);
            let clear = high.iter().all(|r| side(r).0 >= cut + KERF);
            !high.is_empty() && clear && comes_apart(&low) && comes_apart(&high)
        })
    })
}

fn checked(pieces: &[Piece], cuts: &[Cut], board: Stock) {
    let mut count = vec![0; pieces.len()];
    for cut in cuts {
        for put in &cut.puts {
            let (piece, at) = (&pieces[put.piece], put.at);
            count[put.piece] += 1;
            let plain = (at.along, at.across) == (piece.along, piece.across);
            let turned = (at.along, at.across) == (piece.across, piece.along);
            assert!(plain || (turned && piece.turns), "{put:?} {piece:?}");
            assert!(at.x >= 0 && at.x + at.along <= board.along, "{put:?}");
            assert!(at.y >= 0 && at.y + at.across <= board.across, "{put:?}");
        }
        let all: Vec<Rect> = cut
            .puts
            .iter()
            .map(|p| p.at)
            .chain(cut.left.clone())
            .collect();
        assert!(comes_apart(&all), "{all:?}");
    }
    let wanted: Vec<usize> = pieces.iter().map(|p| p.count).collect();
    assert_eq!(count, wanted);
}

fn held(boards: usize, each: usize, grid: i64, turns: bool, seed: u64) {
    held_as(Made {
        board: BOARD,
        boards,
        each,
        grid,
        turns,
        rule: Rule::Mixed,
        alike: false,
        seed,
    });
}

/// One over the optimum at most to 20 boards, above a twentieth.
fn held_as(made: Made) {
    let pieces = cut_up(made);
    let cuts = cut(&pieces, made.board, &[], KERF);
    checked(&pieces, &cuts, made.board);
    let most = made.boards + (made.boards / 20).max(1);
    assert!(cuts.len() <= most, "{made:?}: {}", cuts.len());
    let least = least_boards(&pieces, made.board, KERF);
    assert!(least <= made.boards, "{made:?}: a bound of {least}");
    assert!(cuts.len() >= least);
}

// Boards cut up at random: the optimum is what was cut up. `cargo bench` tries many more, on boards of
// 2480 × 1230, 2800 × 2070 and 3050 × 1220, cut into 2 to 20, 25 and 30 pieces each to 0.1, 1 and 10 mm, with
// grain and without, by every rule, some boards alike: of 2520 of 1 to 20 boards 2084 are one over, none
// more; of 180 of 21 to 40 fifteen are two over.
#[test]
fn boards_cut_up_at_random_are_put_together_again_within_one() {
    for (n, (boards, each)) in [(1, 5), (1, 12), (2, 8), (3, 14), (5, 6), (8, 9), (12, 5)]
        .into_iter()
        .enumerate()
    {
        for turns in [false, true] {
            for grid in [1, 100] {
                held(boards, each, grid, turns, 17 + n as u64);
            }
        }
    }
    held(20, 6, 1, true, 5);
    held(20, 9, 100, false, 6);
    for rule in [Rule::Any, Rule::Largest] {
        held_as(Made {
            board: BOARD,
            boards: 9,
            each: 8,
            grid: 10,
            turns: true,
            rule,
            alike: true,
            seed: 7,
        });
    }
}

#[test]
fn forty_boards_within_a_twentieth() {
    held(40, 4, 100, true, 3);
    held(40, 6, 1, false, 4);
}

// Formerly the worst: each came out one more over than it may.
#[test]
fn boards_that_once_came_out_too_many() {
    let long = Stock {
        along: 30_500,
        across: 12_200,
    };
    for (board, boards, each, grid, turns, rule, seed) in [
        (long, 17, 3, 1, true, Rule::Mixed, 10_201),
        (long, 20, 3, 10, false, Rule::Mixed, 10_620),
        (long, 20, 12, 10, false, Rule::Largest, 11_782),
        (long, 24, 3, 100, true, Rule::Mixed, 11_415),
        (BOARD, 38, 3, 100, true, Rule::Mixed, 13_249),
    ] {
        held_as(Made {
            board,
            boards,
            each,
            grid,
            turns,
            rule,
            alike: false,
            seed,
        });
    }
}

// Beasley's GCUT1 (1985; OR-Library, its sizes as seen in a public copy): ten rectangles, each once, from
// boards of 250 × 250, no saw. An exhaustive search over all guillotine cuts (a program of its own, run
// once) comes to five with the sizes as they lie and to four with them turned at will.
#[test]
fn a_published_instance() {
    const SIZES: [(i64, i64); 10] = [
        (167, 184),
        (114, 118),
        (167, 152),
        (83, 140),
        (70, 86),
        (143, 166),
        (120, 160),
        (66, 148),
        (87, 141),
        (69, 165),
    ];
    let board = Stock {
        along: 250,
        across: 250,
    };
    for (turns, fewest) in [(false, 5), (true, 4)] {
        let pieces = SIZES.map(|(a, b)| piece(a, b, turns, 1));
        let cuts = cut(&pieces, board, &[], 0);
        let put: usize = cuts.iter().map(|c| c.puts.len()).sum();
        assert_eq!((cuts.len(), put), (fewest, 10), "turned: {turns}");
    }
}

fn piece(along: i64, across: i64, turns: bool, count: usize) -> Piece {
    Piece {
        along,
        across,
        turns,
        count,
    }
}

// By hand: 1230 takes two of 580 with the saw between (1164), and 2480 one of 2294: two to a board,
// whatever the areas say (4 would make 2.1 boards); turned they do not fit at all.
#[test]
fn sides_of_a_wardrobe_go_two_to_a_board() {
    let sides = [piece(22_940, 5_840, true, 4)];
    assert_eq!(least_boards(&sides, BOARD, KERF), 2);
    let cuts = cut(&sides, BOARD, &[], KERF);
    checked(&sides, &cuts, BOARD);
    assert_eq!(cuts.len(), 2);
    assert_eq!(cuts[0].puts, cuts[1].puts, "cut alike");
    let odd = [piece(12_400, 12_300, false, 3)];
    assert_eq!(
        cut(&odd, BOARD, &[], KERF).len(),
        3,
        "two would lack the saw's 4 mm"
    );
}

// By hand: with the grain along, a piece 1300 across does not go on a board 1230 wide; it would turned.
#[test]
fn grain_is_kept_and_what_is_too_large_is_left_out() {
    let fixed = [piece(1_000, 13_000, false, 2)];
    assert!(cut(&fixed, BOARD, &[], KERF).is_empty());
    let free = [piece(1_000, 13_000, true, 2)];
    let cuts = cut(&free, BOARD, &[], KERF);
    checked(&free, &cuts, BOARD);
    assert_eq!(cuts.len(), 1);
}

#[test]
fn boards_in_hand_are_used_first() {
    let pieces = [piece(6_000, 4_000, false, 3)];
    let small = Stock {
        along: 6_000,
        across: 8_040,
    };
    let none = Stock {
        along: 100,
        across: 100,
    };
    let cuts = cut(&pieces, BOARD, &[none, small], KERF);
    assert_eq!(cuts[0].in_hand, Some(1));
    assert_eq!((cuts[0].puts.len(), cuts[1].puts.len()), (2, 1));
    assert_eq!(cuts[1].in_hand, None);
}

#[test]
fn nothing_and_nonsense_come_to_no_boards() {
    assert!(cut(&[], BOARD, &[], KERF).is_empty());
    let wrong = [
        piece(0, 500, true, 9),
        piece(-5, 500, false, 1),
        piece(i64::MAX, 1, true, 1),
    ];
    assert!(cut(&wrong, BOARD, &[], KERF).is_empty());
    let none = Stock {
        along: 0,
        across: -7,
    };
    assert!(cut(&[piece(10, 10, true, 1)], none, &[none], 0).is_empty());
}
