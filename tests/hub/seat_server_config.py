"""Settings of every learner's Jupyter server. `room.py setup` copies this where they read it and cannot change it."""

c = get_config()  # noqa: F821

# Kernels speak through files in the learner's own folder. Through ports, their neighbours could listen in.
c.KernelManager.transport = "ipc"
# The course needs no terminals.
c.ServerApp.terminals_enabled = False
# Nothing leaves this machine.
c.LabApp.news_url = None
c.LabApp.check_for_updates_class = "jupyterlab.NeverCheckForUpdate"
c.LabApp.extension_manager = "readonly"
