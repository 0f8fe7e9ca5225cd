"""Classes: their lists, what is printed of each student, problems of their own, and the books that their sheets are bound in."""

from sheetgen.sets.classes.books import MANY, Book, books_of
from sheetgen.sets.classes.names import OWN, Cells, Namer, without_own
from sheetgen.sets.classes.own import RESERVE, SpentError, own_problems
from sheetgen.sets.classes.pages import Bound, BoundPages, key_of, outline_of
from sheetgen.sets.classes.reading import class_list_of, load_class_list
from sheetgen.sets.classes.students import (
    BOOKS,
    COLUMNS,
    DOUBTS,
    ENCODINGS,
    FOR_WHOM,
    MOST_PAIRS,
    MOST_STUDENTS,
    ORDERS,
    ClassList,
    ClassListError,
    ClassWishes,
    Student,
)

__all__ = [
    "BOOKS", "COLUMNS", "DOUBTS", "ENCODINGS", "FOR_WHOM", "MANY", "MOST_PAIRS", "MOST_STUDENTS", "ORDERS", "OWN",
    "RESERVE", "Book", "Bound", "BoundPages", "Cells", "ClassList", "ClassListError", "ClassWishes", "Namer",
    "SpentError", "Student", "books_of", "class_list_of", "key_of", "load_class_list", "outline_of", "own_problems",
    "without_own",
]
