//! Where along the slope a rung or an outlooker has room.

use crate::measure::tolerance::LAST_BITS;

use super::site::Site;

/// A rung, or an end rafter under an outlooker, keeps at least this much wood, inches (common practice).
pub(super) const LEAST_LEFT_IN: f64 = 0.5;

/// A rafter at the eave as outlookers and rungs meet it, lengths in inches.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slant {
    /// Rise over run.
    pub tangent: f64,
    /// Length along the slope over level length.
    pub secant: f64,
    /// Depth of the rafter.
    pub depth: f64,
    /// Its top edge above the plate at the building line, plumb.
    pub heel_stand: f64,
    /// Level, from the building line out to the tail cut.
    pub tail: f64,
    /// Level length of the seat.
    pub seat: f64,
    /// Height of a level soffit cut above the plate.
    pub soffit: Option<f64>,
}

impl Slant {
    /// The rafters of one gable, with the height of their level soffit cut.
    pub(super) fn of(site: &Site, soffit: Option<f64>) -> Slant {
        Slant {
            tangent: site.tangent,
            secant: site.secant,
            depth: site.depth,
            heel_stand: site.heel_stand,
            tail: site.tail,
            seat: site.seat,
            soffit,
        }
    }

    /// Inches up the slope from the top of the tail cut to the point of the roof plane `y` in from the building line.
    fn up_to(&self, y: f64) -> f64 {
        (y + self.tail) * self.secant
    }
}

/// A stretch of the slope where no piece may have its middle: inches up from the top of the tail cut,
/// without its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Zone {
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl Zone {
    pub(super) fn new(from: f64, to: f64) -> Option<Zone> {
        (to - from > LAST_BITS).then_some(Zone { from, to })
    }

    /// The zone in which a piece laid flat, `half` to each side and `thick` under the roof plane, would
    /// run into something that reaches from `from` to `to` inches in from the building line, up to
    /// `top` above the plate.
    pub(super) fn over(
        slant: &Slant,
        half: f64,
        thick: f64,
        (from, to): (f64, f64),
        top: f64,
    ) -> Option<Zone> {
        let level_half = half / slant.secant;
        // the lower corners of a piece square to the slope lean inward by its thickness
        let lean = thick * slant.tangent / slant.secant;
        // outside of it
        let outer = from - lean - level_half;
        // beyond it, or with its lowest corner over it
        let over = (top + thick / slant.secant - slant.heel_stand) / slant.tangent;
        let inner = to.min(over) + level_half;
        Zone::new(slant.up_to(outer), slant.up_to(inner))
    }

    /// The zones in which a piece `half` to each side and `thick` under the roof plane would leave too
    /// little wood of the rafter under it, or of a rung itself: over a level soffit cut, and over the
    /// birdsmouth if there is one.
    pub(super) fn of_weak_wood(
        slant: &Slant,
        half: f64,
        thick: f64,
        birdsmouth: bool,
    ) -> Vec<Zone> {
        let (sine, cosine) = (slant.tangent / slant.secant, 1.0 / slant.secant);
        let most_off = slant.depth - thick - LEAST_LEFT_IN;
        if most_off < 0.0 {
            let everywhere = Zone { from: f64::NEG_INFINITY, to: f64::INFINITY };
            return vec![everywhere];
        }
        // stations along the rafter's bottom edge start at the heel's corner on the plate
        let zone = |from: f64, to: f64| {
            let up = |station: f64| station - slant.heel_stand * sine + slant.tail * slant.secant;
            Zone::new(up(from - half), up(to + half))
        };
        let mut zones = Vec::new();
        if birdsmouth {
            // the seat removes most at the heel, and less farther in
            let enough = (slant.seat - most_off / sine) * cosine;
            zones.extend((enough > 0.0).then(|| zone(0.0, enough)).flatten());
        }
        if let Some(height) = slant.soffit {
            // a level soffit cut removes most at the tail
            let enough = (slant.seat + (height - most_off * slant.secant) / slant.tangent).min(0.0);
            zones.extend(
                (enough > -slant.tail)
                    .then(|| {
                        let station = |y: f64| y * cosine + height * sine;
                        zone(station(-slant.tail) - 2.0 * slant.depth, station(enough))
                    })
                    .flatten(),
            );
        }
        zones
    }
}

/// What the zones leave of the slope.
#[derive(Debug, Clone)]
pub(super) struct Slots {
    last: f64,
    free: Vec<(f64, f64)>,
}

impl Slots {
    /// The slope from `first` to `last` less the zones.
    pub(super) fn new(first: f64, last: f64, zones: &[Zone]) -> Slots {
        let mut zones = zones.to_vec();
        zones.sort_by(|a, b| a.from.total_cmp(&b.from));
        let mut free = Vec::new();
        let mut from = first;
        for zone in zones {
            if zone.from >= from && from <= last {
                free.push((from, zone.from.min(last)));
            }
            from = from.max(zone.to);
        }
        if from <= last {
            free.push((from, last));
        }
        Slots { last, free }
    }

    /// Middles at most `spacing` apart, starting at the tail, where the zones allow it, and at least
    /// `apart` from one another; a single one if the slope is shorter than the spacing.
    pub(super) fn places(&self, spacing: f64, apart: f64) -> Vec<f64> {
        let mut places: Vec<f64> = Vec::new();
        let mut at = 0.0;
        while at + spacing <= self.last + LAST_BITS {
            let want = at + spacing;
            let nearest = places.last().map_or(0.0, |last| last + apart);
            // as far up as the spacing reaches, otherwise the next place beyond
            let within = self
                .free
                .iter()
                .filter(|(from, _)| *from <= want + LAST_BITS)
                .map(|(_, to)| to.min(want))
                .filter(|place| *place >= nearest && *place > at + LAST_BITS)
                .reduce(f64::max);
            let beyond = self
                .free
                .iter()
                .map(|(from, _)| *from)
                .filter(|from| *from > want)
                .reduce(f64::min);
            let Some(place) = within.or(beyond) else {
                break;
            };
            places.push(place);
            at = place;
        }
        if places.is_empty() {
            let middle = self.last / 2.0;
            let off = |place: &f64| (place - middle).abs();
            places.extend(
                self.free
                    .iter()
                    .map(|(from, to)| middle.clamp(*from, *to))
                    .min_by(|a, b| off(a).total_cmp(&off(b))),
            );
        }
        places
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(last: f64, zones: &[(f64, f64)], expected: &[f64]) {
        let zones: Vec<Zone> = zones.iter().filter_map(|z| Zone::new(z.0, z.1)).collect();
        assert_eq!(Slots::new(1.75, last, &zones).places(24.0, 3.5), expected);
    }

    #[test]
    fn places_keep_the_spacing_where_they_can() {
        case(100.0, &[], &[24.0, 48.0, 72.0, 96.0]);
        // one place is in a zone: move it lower, and continue from there
        case(100.0, &[(20.0, 30.0)], &[20.0, 44.0, 68.0, 92.0]);
        // no place within the spacing: the first place beyond
        case(100.0, &[(0.0, 30.0)], &[30.0, 54.0, 78.0]);
        // two zones that overlap
        case(60.0, &[(20.0, 30.0), (25.0, 45.0)], &[20.0, 45.0]);
        // a slope shorter than the spacing still gets one
        case(20.0, &[], &[10.0]);
        case(20.0, &[(5.0, 18.0)], &[5.0]);
        // no room at all
        case(20.0, &[(0.0, 21.0)], &[]);
        case(1.0, &[], &[]);
    }
}
