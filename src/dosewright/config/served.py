"""The application together with its task runner: what `dosewright serve` starts in each of its processes.

Apart from `config.wsgi`, so that whoever imports the application only (a test, a tool) starts no thread.
"""

from dosewright.config.wsgi import application

from dosewright.config.worker import start_worker  # isort: skip  the models exist only once the application is set up

__all__ = ["application"]

start_worker()
