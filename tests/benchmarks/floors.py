"""The floors: the least that a program of the same libraries takes, as texts that Python runs."""

from __future__ import annotations

import sys

TABLE_ROWS = 50
LAST_OF_TABLE = "shown-to-the-end"  # stands in the last row that finds room in a window of 36 lines
TABLE = f"""
from textual.app import App
from textual.widgets import DataTable
class Bare(App):
    def compose(self):
        yield DataTable(cursor_type="row")
    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("tag", "model", "next", "time")
        for n in range({TABLE_ROWS}):
            table.add_row(
                str(n), f"Maker Model {{n}}", "{LAST_OF_TABLE}" if n == 34 else "look over", f"{{n}} min"
            )
Bare().run()
"""
LABEL_SHOWN = "ready-to-go"
LABEL = f"""
from textual.app import App
from textual.widgets import Label
class Bare(App):
    seconds = 0
    def compose(self):
        yield Label("{LABEL_SHOWN} 0")
    def on_mount(self):
        self.set_interval(1, self.tick)
    def tick(self):
        self.seconds += 1
        self.query_one(Label).update(f"{LABEL_SHOWN} {{self.seconds}}")
Bare().run()
"""
READS = """
import typer
app = typer.Typer()
@app.command()
def hello(name: str):
    typer.echo(f"hello {name}")
app()
"""
# One row by way of a table class, as safely as ours (WAL, FULL), into a file that has the table already.
WRITES = """
import typer
import sqlmodel
from sqlalchemy import event
class Written(sqlmodel.SQLModel, table=True):
    id: int | None = sqlmodel.Field(default=None, primary_key=True)
    name: str
app = typer.Typer()
@app.command()
def hello(path: str):
    engine = sqlmodel.create_engine(f"sqlite:///{path}")
    @event.listens_for(engine, "connect")
    def safely(connection, _):
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
    with sqlmodel.Session(engine) as session:
        session.add(Written(name="hello"))
        session.commit()
    typer.echo("written")
app()
"""


def python(text: str, *arguments: str) -> list[str]:
    """The command that runs it."""
    return [sys.executable, "-c", text, *arguments]
