"""The start page's map of the course, made from the table of pages."""

from html import escape

from jetlib.course.pages.contents import lessons, pages


class CourseMap:
    """A table of the pages with links, minutes and what each is for."""

    def _rows(self):
        beside = [each for each in pages() if not each.number]
        return [*(each for each in lessons() if each.stem != "00_start_here"), *beside]

    def __repr__(self):
        return "\n".join(
            f"{each.name:<24} {f'{each.minutes} min' if each.minutes else '':>7}  {each.can}" for each in self._rows()
        )

    def _repr_html_(self):
        rows = "".join(
            f'<tr><td style="text-align:left"><a href="{each.stem}.ipynb">{escape(each.name)}</a></td>'
            f"<td>{f'{each.minutes} min' if each.minutes else ''}</td>"
            f'<td style="text-align:left">{escape(each.can)}</td></tr>'
            for each in self._rows()
        )
        head = (
            '<tr><th style="text-align:left">page</th><th>time</th><th style="text-align:left">you can then</th></tr>'
        )
        return f"<table><thead>{head}</thead><tbody>{rows}</tbody></table>"


def course_map() -> CourseMap:
    """The CourseMap of the pages that are in the course now."""
    return CourseMap()
