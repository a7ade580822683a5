"""A curve drawn on its graph: what its entries hold, where its points lie, and a finger."""


def figures(box):
    """What the entries under the graph hold, psi."""
    return [float(entry.input_value().split()[0] or 0) for entry in box.locator(".course-typed input").all()]


def along(box, heights):
    """Places on the screen over the points of the graph, at shares of its height."""
    graph = box.locator(".course-over rect").bounding_box()
    first, last = (box.locator(".course-handle").nth(at).bounding_box() for at in (0, 4))
    x0, x1 = (each["x"] + each["width"] / 2 for each in (first, last))
    step = (x1 - x0) / 4
    return [(x0 + at * step, graph["y"] + graph["height"] * (1 - share)) for at, share in enumerate(heights)]


def settled(box, wanted):
    box.page.wait_for_function(
        "([card, wanted]) => [...card.querySelectorAll('.course-typed input')].filter(e => e.value).length === wanted",
        arg=[box.element_handle(), wanted],
    )
    box.page.wait_for_timeout(600)
    return figures(box)


def tap(page, x, y):
    """A finger for a moment, in a window that is touched."""
    debugger = page.context.new_cdp_session(page)
    debugger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    debugger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    debugger.detach()
