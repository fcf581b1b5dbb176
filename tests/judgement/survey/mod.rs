//! Surveys: what they name and what they do not, on folders made to order; the figures against SciPy's; the season.

mod folders;
mod gathered;
mod live;
mod season;
