//! The problem in the form of the checker: rows, families of columns, and the columns of a plan.

/// A row and what one column puts into it.
pub type Entry = (usize, i64);

/// The sum of what all columns of a plan put into a row.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// At least so much, if there is a least.
    pub least: Option<i64>,
    /// At most so much, if there is a most.
    pub most: Option<i64>,
}

impl Row {
    /// At least `least`, as much more as may be.
    #[must_use]
    pub fn at_least(least: i64) -> Self {
        Self { least: Some(least), most: None }
    }

    /// At most `most`.
    #[must_use]
    pub fn at_most(most: i64) -> Self {
        Self { least: None, most: Some(most) }
    }
}

/// Something that may be packed: it uses `size` of the capacity and puts 1 into a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// The capacity that it uses, at least 1.
    pub size: i64,
    /// The row it fills.
    pub row: usize,
    /// How often one pack may hold it.
    pub most: i64,
}

/// The remaining capacity, available several times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strips {
    /// The number of strips of the remaining length.
    pub count: i64,
    /// The list of items that each of them may be packed with.
    pub items: usize,
}

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arc {
    /// The node it leaves.
    pub from: usize,
    /// The node at its end, a later one.
    pub to: usize,
    /// What it puts into the rows.
    pub entries: Vec<Entry>,
}

/// All paths from the first node to the last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paths {
    /// Number of nodes.
    pub nodes: usize,
    /// The steps, each from a node to a later one.
    pub arcs: Vec<Arc>,
}

/// The columns of a family.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Members {
    /// Just one column.
    One(Vec<Entry>),
    /// Every pack of items with sizes that stay within a capacity.
    Packs {
        /// The capacity.
        capacity: i64,
        /// Which list of items ([`Model::items`]).
        items: usize,
        /// What the remaining capacity may hold.
        strips: Option<Strips>,
    },
    /// Every path.
    Paths(Paths),
}

/// Columns of one kind, at one cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Family {
    /// Cost of one column at each level of the objective, not negative.
    pub cost: Vec<i64>,
    /// The fewest columns of the family in a plan, counting repeats.
    pub least: i64,
    /// The most.
    pub most: i64,
    /// The columns.
    pub members: Members,
}

/// A problem in whole numbers: use columns so that every row is met, at least cost.
///
/// Costs come in levels: the first is minimized; among plans of that cost the second, and so on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Model {
    /// The rows.
    pub rows: Vec<Row>,
    /// Lists of items, shared by families.
    pub items: Vec<Vec<Item>>,
    /// The families.
    pub families: Vec<Family>,
    /// Levels of the objective.
    pub levels: usize,
}

/// One column of a family.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pick {
    /// The only one.
    One,
    /// A pack: items by their index in the list with their number, and the same for each strip that is
    /// used.
    Pack {
        /// What the capacity itself holds.
        items: Vec<(usize, i64)>,
        /// What the strips hold.
        strips: Vec<Vec<(usize, i64)>>,
    },
    /// A path, arc by arc.
    Path(Vec<usize>),
}

/// A column in a plan, and how often.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// The family.
    pub family: usize,
    /// The column.
    pub pick: Pick,
    /// How often, at least once.
    pub times: i64,
}

/// A question that can be stated as a [`Model`].
pub trait Question {
    /// The model. Every answer to the question is a plan of the model, and every plan of the model is
    /// an answer.
    fn model(&self) -> Model;

    /// The rules under which a plan is best, for people: `cheapest with these stock lengths and prices`.
    fn rules(&self) -> String;
}

/// An answer to a question, as its columns.
pub trait Plan<Q: ?Sized> {
    /// The columns.
    fn taken(&self, question: &Q) -> Vec<Taken>;
}
