//! The published pairs of colours, and orders of boards against every order there is. Knows the formula
//! only by what it gives.

use super::*;

/// The test pairs of Sharma, Wu and Dalal (2005), table 1, to their four decimals.
const PAIRS: [([f64; 3], [f64; 3], f64); 34] = [
    ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
    ([50.0, 3.1571, -77.2803], [50.0, 0.0, -82.7485], 2.8615),
    ([50.0, 2.8361, -74.0200], [50.0, 0.0, -82.7485], 3.4412),
    ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0000),
    ([50.0, -1.1848, -84.8006], [50.0, 0.0, -82.7485], 1.0000),
    ([50.0, -0.9009, -85.5211], [50.0, 0.0, -82.7485], 1.0000),
    ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
    ([50.0, -1.0, 2.0], [50.0, 0.0, 0.0], 2.3669),
    ([50.0, 2.4900, -0.0010], [50.0, -2.4900, 0.0009], 7.1792),
    ([50.0, 2.4900, -0.0010], [50.0, -2.4900, 0.0010], 7.1792),
    ([50.0, 2.4900, -0.0010], [50.0, -2.4900, 0.0011], 7.2195),
    ([50.0, 2.4900, -0.0010], [50.0, -2.4900, 0.0012], 7.2195),
    ([50.0, -0.0010, 2.4900], [50.0, 0.0009, -2.4900], 4.8045),
    ([50.0, -0.0010, 2.4900], [50.0, 0.0010, -2.4900], 4.8045),
    ([50.0, -0.0010, 2.4900], [50.0, 0.0011, -2.4900], 4.7461),
    ([50.0, 2.5, 0.0], [50.0, 0.0, -2.5], 4.3065),
    ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
    ([50.0, 2.5, 0.0], [61.0, -5.0, 29.0], 22.8977),
    ([50.0, 2.5, 0.0], [56.0, -27.0, -3.0], 31.9030),
    ([50.0, 2.5, 0.0], [58.0, 24.0, 15.0], 19.4535),
    ([50.0, 2.5, 0.0], [50.0, 3.1736, 0.5854], 1.0000),
    ([50.0, 2.5, 0.0], [50.0, 3.2972, 0.0], 1.0000),
    ([50.0, 2.5, 0.0], [50.0, 1.8634, 0.5757], 1.0000),
    ([50.0, 2.5, 0.0], [50.0, 3.2592, 0.3350], 1.0000),
    (
        [60.2574, -34.0099, 36.2677],
        [60.4626, -34.1751, 39.4387],
        1.2644,
    ),
    (
        [63.0109, -31.0961, -5.8663],
        [62.8187, -29.7946, -4.0864],
        1.2630,
    ),
    (
        [61.2901, 3.7196, -5.3901],
        [61.4292, 2.2480, -4.9620],
        1.8731,
    ),
    (
        [35.0831, -44.1164, 3.7933],
        [35.0232, -40.0716, 1.5901],
        1.8645,
    ),
    (
        [22.7233, 20.0904, -46.6940],
        [23.0331, 14.9730, -42.5619],
        2.0373,
    ),
    (
        [36.4612, 47.8580, 18.3852],
        [36.2715, 50.5065, 21.2231],
        1.4146,
    ),
    (
        [90.8027, -2.0831, 1.4410],
        [91.1528, -1.6435, 0.0447],
        1.4441,
    ),
    (
        [90.9257, -0.5406, -0.9208],
        [88.6381, -0.8985, -0.7239],
        1.5381,
    ),
    (
        [6.7747, -0.2908, -2.4247],
        [5.8714, -0.0985, -2.2286],
        0.6377,
    ),
    (
        [2.0776, 0.0795, -1.1350],
        [0.9033, -0.0636, -0.5514],
        0.9082,
    ),
];

#[test]
fn the_published_pairs_come_out_to_their_last_decimal() {
    for (one, two, expected) in PAIRS {
        for got in [difference(one, two), difference(two, one)] {
            assert!(
                (got - expected).abs() < 5.1e-5,
                "{one:?} {two:?}: {got}, published {expected}"
            );
        }
    }
}

fn permutations(n: usize) -> Vec<Vec<usize>> {
    if n == 0 {
        return vec![vec![]];
    }
    let mut out = Vec::new();
    for shorter in permutations(n - 1) {
        for place in 0..n {
            let mut one = shorter.clone();
            one.insert(place, n - 1);
            out.push(one);
        }
    }
    out
}

fn total(labs: &[Lab], order: &[usize]) -> i64 {
    let pairs = order.windows(2);
    pairs.map(|w| thousandths(labs[w[0]], labs[w[1]])).sum()
}

// Against every order there is of seven colours, which a fixed rule scatters.
#[test]
fn no_order_of_a_few_boards_is_better() {
    let mut seed: i64 = 17;
    let mut next = || {
        seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
        seed / 65_536 % 9000
    };
    for _ in 0..6 {
        let labs: Vec<Lab> = (0..7)
            .map(|_| [50_000 + next(), next() - 4000, next()])
            .collect();
        let (found, exact) = order(&labs);
        let best = permutations(7)
            .into_iter()
            .map(|o| (worst(&labs, &o), total(&labs, &o)))
            .min();
        assert!(exact);
        assert_eq!(Some((worst(&labs, &found), total(&labs, &found))), best);
    }
}

#[test]
fn twelve_are_ordered_exactly_and_more_are_ordered_all_the_same() {
    let shades = |n: i64| -> Vec<Lab> {
        (0..n)
            .map(|i| [50_000 + i * 7 % n * 500, 1000, 1000])
            .collect()
    };
    // By hand: shades of one hue in a row are best from light to dark.
    let labs = shades(12);
    let (found, exact) = order(&labs);
    assert!(exact);
    let lights: Vec<i64> = found.iter().map(|i| labs[*i][0]).collect();
    let rising = lights.windows(2).all(|w| w[0] < w[1]);
    assert!(rising || lights.windows(2).all(|w| w[0] > w[1]));
    let (mut found, exact) = order(&shades(13));
    found.sort_unstable();
    assert!(!exact && found == (0..13).collect::<Vec<_>>());
}
