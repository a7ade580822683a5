"""The face of the course in JupyterLab: a page to read instead of a workbench, and a server that keeps it whole.

`package.json`, the scripts and the style sheet are a JupyterLab extension as it is: nothing is built. The start script
lays them where JupyterLab looks. `server` is the other half, a Jupyter server extension.
"""


def _jupyter_server_extension_points():
    return [{"module": "jetlib.screen.page.server"}]
