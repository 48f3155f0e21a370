//! Lines: the straight sticks under the edges of a roof, which the rafters of the faces beside them meet.

use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::tolerance::HAIR;
use crate::roof::{EdgeKind, Roof};

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineOf {
    /// A ridge: level, the faces fall away.
    Ridge,
    /// A hip: sloped, the faces fall away.
    Hip,
    /// A valley: sloped, the faces rise away.
    Valley,
    /// A level line where one face ends in a steeper one: the head of a shed dormer.
    Header,
}

/// The part of a line that has a face beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Border {
    /// Number of the face.
    pub face: usize,
    /// Where it starts in plan, nearer to the line's foot.
    pub from: DVec2,
    /// Where it ends.
    pub to: DVec2,
    /// True if the face lies on the left of the line, seen from its foot.
    pub on_left: bool,
}

/// A straight stick under an edge of the roof, plumb below it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is.
    pub of: LineOf,
    /// Its name: the faces that it has beside it.
    pub name: String,
    /// Its lower end on the roof; of a level line either.
    pub foot: DVec3,
    /// Its other end.
    pub head: DVec3,
    /// What it belongs to: 0 for what stands on walls, then what is laid on that, one after another.
    pub layer: usize,
    /// Half its thickness, inches; zero if there is no stick.
    pub half: f64,
    /// The faces beside it, with the part that each has.
    pub borders: Vec<Border>,
}

impl Line {
    /// Unit direction in plan from foot to head.
    #[must_use]
    pub fn toward_head(&self) -> DVec2 {
        (self.head - self.foot).truncate().normalize()
    }

    /// Unit direction in plan square to it, toward its left or right side.
    #[must_use]
    pub fn side(&self, left: bool) -> DVec2 {
        let left_side = self.toward_head().perp();
        if left { left_side } else { -left_side }
    }

    /// How far the roof falls from its center line to its side on the left or right, inches: less than nothing where it rises.
    #[must_use]
    pub fn fall(&self, roof: &Roof, border: &Border) -> f64 {
        -roof.faces[border.face].slope.gradient.dot(self.side(border.on_left)) * self.half
    }

    /// How far its square top must lie below the edge so that none of it is above a face.
    #[must_use]
    pub fn drop(&self, roof: &Roof) -> f64 {
        self.borders.iter().map(|border| self.fall(roof, border)).fold(0.0, f64::max)
    }

    /// True if the faces beside it fall away from it.
    #[must_use]
    pub fn is_crest(&self, roof: &Roof) -> bool {
        self.borders.iter().all(|border| self.fall(roof, border) > 0.0) || self.of == LineOf::Ridge
    }

    /// The plumb plane of one side, its outside toward that side.
    #[must_use]
    pub fn side_plane(&self, left: bool) -> Plane {
        let out = self.side(left);
        Plane::through((self.foot.truncate() + out * self.half).extend(0.0), out.extend(0.0))
    }

    /// The first of the faces beside it.
    fn first_face(&self) -> Option<usize> {
        self.borders.iter().map(|border| border.face).min()
    }

    /// Where it crosses another line, at neither's end.
    fn crossing(&self, other: &Line) -> Option<DVec3> {
        let (own, its) = (self.toward_head(), other.toward_head());
        let turn = own.perp_dot(its);
        if turn.abs() < NEAR_IN {
            return None;
        }
        let arm = (other.foot - self.foot).truncate();
        let share = |line: &Line, at: f64| {
            let length = (line.head - line.foot).truncate().length();
            (at > NEAR_IN && at < length - NEAR_IN).then(|| line.foot.lerp(line.head, at / length))
        };
        let place = share(self, arm.perp_dot(its) / turn)?;
        let its_place = share(other, arm.perp_dot(own) / turn)?;
        (place.distance(its_place) < NEAR_IN).then_some(place)
    }

    /// Ends it at a place on it; gives what goes on from there.
    fn parted(&mut self, place: DVec3) -> Line {
        let at = |end: DVec2| (end - place.truncate()).dot(self.toward_head());
        let (before, beyond): (Vec<Border>, Vec<Border>) = (
            self.borders.iter().filter(|border| at(border.from) < -NEAR_IN).cloned().collect(),
            self.borders.iter().filter(|border| at(border.to) > NEAR_IN).cloned().collect(),
        );
        let to = |border: Border| match at(border.to) > 0.0 {
            true => Border { to: place.truncate(), ..border },
            false => border,
        };
        let from = |border: Border| match at(border.from) < 0.0 {
            true => Border { from: place.truncate(), ..border },
            false => border,
        };
        let before = before.into_iter().map(to).collect();
        let beyond = beyond.into_iter().map(from).collect();
        let rest = Line { foot: place, borders: beyond, name: String::new(), ..*self };
        self.head = place;
        self.borders = before;
        rest
    }

    /// True if a place in plan lies on it, ends included.
    #[must_use]
    pub fn passes(&self, place: DVec2) -> bool {
        let (along, arm) = (self.toward_head(), place - self.foot.truncate());
        let at = arm.dot(along);
        let length = (self.head - self.foot).truncate().length();
        along.perp_dot(arm).abs() <= NEAR_IN && at >= -NEAR_IN && at <= length + NEAR_IN
    }
}

/// Two corners of a roof this close are one, inches.
pub(super) const NEAR_IN: f64 = 1e-5;

/// The lines under the edges of a roof; edges that go on in one line are one.
pub(super) fn of(
    roof: &Roof,
    half: impl Fn(LineOf) -> f64,
    layer: impl Fn(usize) -> usize,
) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for edge in &roof.edges {
        let of = match edge.kind {
            EdgeKind::Ridge => LineOf::Ridge,
            EdgeKind::Hip => LineOf::Hip,
            EdgeKind::Valley if edge.is_level() => LineOf::Header,
            EdgeKind::Valley => LineOf::Valley,
            EdgeKind::Eave | EdgeKind::Rake | EdgeKind::Step | EdgeKind::Under | EdgeKind::Laid => {
                continue;
            }
        };
        let turned = edge.to.z < edge.from.z - HAIR
            || edge.is_level() && edge.to.x + edge.to.y < edge.from.x + edge.from.y;
        let (foot, head) = if turned { (edge.to, edge.from) } else { (edge.from, edge.to) };
        let borders = edge.faces.iter().enumerate().map(|(number, face)| Border {
            face: *face,
            from: foot.truncate(),
            to: head.truncate(),
            // the first of an edge's faces lies on its left
            on_left: (number == 0) != turned,
        });
        let line = Line {
            of,
            name: String::new(),
            foot,
            head,
            half: half(of),
            layer: layer(edge.faces[0]),
            borders: borders.collect(),
        };
        join(&mut lines, line);
    }
    part_at_crossings(&mut lines);
    lines.sort_by(|one, other| {
        let key = |line: &Line| (line.of, line.first_face());
        key(one).cmp(&key(other)).then(one.foot.x.total_cmp(&other.foot.x))
    });
    for line in &mut lines {
        line.name = name(roof, line);
    }
    lines
}

/// Ends lines at those that they cross: of two ridges as high, that of the block told first goes through.
fn part_at_crossings(lines: &mut Vec<Line>) {
    let mut at = 0;
    while at < lines.len() {
        let line = &lines[at];
        let through = lines
            .iter()
            .filter(|other| other.layer == line.layer && other.first_face() < line.first_face());
        match through.into_iter().find_map(|other| line.crossing(other)) {
            Some(place) => {
                let rest = lines[at].parted(place);
                lines.push(rest);
            }
            None => at += 1,
        }
    }
}

/// The names of the faces beside it, of each side the first.
fn name(roof: &Roof, line: &Line) -> String {
    let mut names: Vec<(usize, &str)> = Vec::new();
    for left in [true, false] {
        let border = line.borders.iter().find(|border| border.on_left == left);
        names.extend(border.map(|border| (border.face, roof.faces[border.face].name.as_str())));
    }
    names.sort_unstable();
    names.into_iter().map(|(_, name)| name).collect::<Vec<_>>().join("-")
}

/// Adds a line, joined with those that it goes on from.
fn join(lines: &mut Vec<Line>, mut line: Line) {
    let goes_on = |one: &Line, other: &Line| {
        let direction = |line: &Line| (line.head - line.foot).normalize();
        one.of == other.of
            && one.layer == other.layer
            && direction(one).distance(direction(other)) < NEAR_IN
            && (one.head.distance(other.foot) < NEAR_IN || other.head.distance(one.foot) < NEAR_IN)
    };
    while let Some(at) = lines.iter().position(|other| goes_on(other, &line)) {
        let other = lines.swap_remove(at);
        if other.head.distance(line.foot) < NEAR_IN {
            line.foot = other.foot;
        } else {
            line.head = other.head;
        }
        line.borders.extend(other.borders);
    }
    lines.push(line);
}
