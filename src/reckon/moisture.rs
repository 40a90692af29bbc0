//! The moisture content that wood comes to in a room, and what it moves by on the way. Knows the
//! Wood Handbook's equation and coefficients; must not know what is made of the wood.

/// Equilibrium moisture content of wood, % of dry mass, at `celsius` and a relative humidity of
/// `humidity` %: Wood Handbook (FPL-GTR-190) chapter 4, the two-hydrate equation of Hailwood and
/// Horrobin in its metric form (coefficients second-hand; the table it makes was seen).
pub fn equilibrium(celsius: f64, humidity: f64) -> f64 {
    let (t, h) = (celsius, (humidity / 100.0).clamp(0.0, 0.99));
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    let k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    let kh = k * h;
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))
}

/// Of particle board and MDF, least and most, % (an association's table, seen: 30 % humidity 6–8,
/// 45 % 7–9, 65 % 9–11, 75 % 10–12, 90 % 15–16), straight between its rows. Board does not follow
/// the curve of wood.
pub fn of_board(humidity: f64) -> (f64, f64) {
    const ROWS: [(f64, f64, f64); 5] = [
        (30.0, 6.0, 8.0),
        (45.0, 7.0, 9.0),
        (65.0, 9.0, 11.0),
        (75.0, 10.0, 12.0),
        (90.0, 15.0, 16.0),
    ];
    let mut before = ROWS[0];
    for row in ROWS {
        if humidity <= row.0 {
            let span = row.0 - before.0;
            let part = if span > 0.0 {
                ((humidity - before.0) / span).clamp(0.0, 1.0)
            } else {
                0.0
            };
            let between = |a: f64, b: f64| a + (b - a) * part;
            return (between(before.1, row.1), between(before.2, row.2));
        }
        before = row;
    }
    (before.1, before.2)
}

/// Movement in mm of solid wood so wide across its grain: width × coefficient × change of moisture
/// content in % (Wood Handbook chapter 13; good for 6 to 14 %).
pub fn movement(width: f64, coefficient: f64, change: f64) -> f64 {
    width * coefficient * change
}

#[cfg(test)]
mod tests {
    use super::*;

    // Wood Handbook FPL-GTR-190 table 4-2 (seen), by °F: columns 20, 30, 35, 40 … 95 % humidity.
    // The equation keeps within 0.055 of it (reference-values.md §1).
    #[test]
    fn the_wood_handbooks_table() {
        const HUMIDITY: [f64; 15] = [
            20., 30., 35., 40., 45., 50., 55., 60., 65., 70., 75., 80., 85., 90., 95.,
        ];
        #[rustfmt::skip]
        let table: [(f64, [f64; 15]); 9] = [
            (30., [4.6, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3]),
            (40., [4.6, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.3, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3]),
            (50., [4.6, 6.3, 7.1, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.4, 14.8, 16.4, 18.4, 20.9, 24.3]),
            (60., [4.6, 6.2, 7.0, 7.8, 8.6, 9.4, 10.2, 11.1, 12.1, 13.3, 14.6, 16.2, 18.2, 20.7, 24.1]),
            (70., [4.5, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5, 23.9]),
            (80., [4.4, 6.1, 6.8, 7.6, 8.3, 9.1, 9.9, 10.8, 11.7, 12.9, 14.2, 15.7, 17.7, 20.2, 23.6]),
            (90., [4.3, 5.9, 6.7, 7.4, 8.1, 8.9, 9.7, 10.5, 11.5, 12.6, 13.9, 15.4, 17.3, 19.8, 23.3]),
            (100., [4.2, 5.8, 6.5, 7.2, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.6, 15.1, 17.0, 19.5, 22.9]),
            (110., [4.0, 5.6, 6.3, 7.0, 7.7, 8.4, 9.2, 10.0, 11.0, 12.0, 13.2, 14.7, 16.6, 19.1, 22.4]),
        ];
        for (fahrenheit, row) in table {
            let celsius = (fahrenheit - 32.0) / 1.8;
            for (humidity, wanted) in HUMIDITY.iter().zip(row) {
                let got = equilibrium(celsius, *humidity);
                assert!((got - wanted).abs() < 0.06, "{fahrenheit} {humidity} {got}");
            }
        }
    }

    // reference-values.md §1 (X, in high precision) and §2.1 (X).
    #[test]
    fn high_precision_and_worked_movements() {
        assert!((equilibrium(20.0, 50.0) - 9.271140709879791).abs() < 1e-9);
        assert!((equilibrium(20.0, 65.0) - 11.99626721970828).abs() < 1e-9);
        for (width, coefficient, change, wanted) in [
            (100.0, 0.00365, -5.0, -1.825),
            (95.0, 0.00369, -5.0, -1.7528),
            (120.0, 0.00274, 3.0, 0.9864),
        ] {
            assert!((movement(width, coefficient, change) - wanted).abs() < 1e-4);
        }
        let change = equilibrium(20.0, 75.0) - equilibrium(20.0, 35.0);
        assert!((movement(100.0, 0.00365, change) - 2.733).abs() < 0.001);
    }

    #[test]
    fn boards_between_the_rows_of_their_table() {
        assert_eq!(of_board(45.0), (7.0, 9.0));
        assert_eq!(of_board(55.0), (8.0, 10.0));
        assert_eq!(of_board(10.0), (6.0, 8.0));
        assert_eq!(of_board(99.0), (15.0, 16.0));
    }
}
