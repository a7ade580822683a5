"""What every learner's server needs besides the course's own settings. `room.py setup` writes both, these last, where
learners read them and cannot change them.
"""

import os

c = get_config()  # noqa: F821

c.ServerApp.root_dir = os.path.expanduser("~")
c.ServerApp.allow_root = False
# Kernels speak through files in the learner's own folder. Through ports, their neighbours could listen in.
c.KernelManager.transport = "ipc"
# The course needs no terminals.
c.ServerApp.terminals_enabled = False
