"""The questions of the trade as tools of a Model Context Protocol server.

``asking`` says what each tool takes, ``tools`` which there are and what each asks the desk, ``words`` what an assistant
is told before, ``telling`` how an answer reads as text (warnings first), ``server`` speaks the protocol. Only
``server`` needs the SDK, the extra ``mcp``.
"""
