"""A typer program that does nothing, as typer is out of the box: what any start-up is held to."""

import typer

app = typer.Typer()


@app.command()
def greet(name: str = "you") -> None:
    """Say hello."""
    typer.echo(f"hello {name}")


@app.command()
def leave(name: str = "you") -> None:
    """Say goodbye."""
    typer.echo(f"goodbye {name}")


if __name__ == "__main__":
    app()
