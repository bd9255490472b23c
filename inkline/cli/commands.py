"""The command `inkline` and its subcommands, each of which imports what it needs as it runs."""

from __future__ import annotations

import click

from inkline.cli.calendar_commands import chart, month
from inkline.cli.delivery_commands import export, pack, shop
from inkline.cli.desk_commands import desk
from inkline.cli.finish_commands import finish
from inkline.cli.kit_commands import again, kit, recipe
from inkline.cli.letters_commands import glyphs, numerals
from inkline.cli.options import debug_option
from inkline.cli.proof_commands import prove
from inkline.cli.style_commands import sampler, style


def _print_version(
    context: click.Context,
    _: click.Parameter,
    wanted: bool,  # noqa: FBT001 - click's form
) -> None:
    if wanted:
        from importlib.metadata import version  # noqa: PLC0415

        click.echo(f"inkline {version('inkline')}")
        context.exit()


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_print_version,
    help="Say which inkline this is.",
)
@debug_option
@click.pass_context
def inkline(context: click.Context) -> None:
    """Calendar stamps that line up to the pixel and look drawn with a pen.

    \b
    Draw the default kit and look at it:
        inkline kit -o my-kit
    \b
    Make it yours:
        inkline recipe -o my-recipe.toml     writes a recipe; open it in any
                                             text editor, it explains itself
        inkline kit my-recipe.toml -o mine   draws what it says
    \b
    Ink a layout that you made elsewhere:
        inkline finish planner.svg -o inked  lines, shapes and text of an SVG
    \b
    Help your buyers:
        inkline chart 2027 -o chart.pdf      which stamps make each month
        inkline month 2027-02 -o february    a finished month, in layers
        inkline shop my-kit -o shop          pictures that sell a kit

    A kit is a folder of white-on-black pictures: grids, blocks, dates, weekdays, months, years and
    digits, all on the same lines, so that any two stamped at one size fit together. Pictures that
    you retouch stay as you left them.
    """  # noqa: D301 - \b is click's sign for lines that stay as they are
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


for _command in (
    kit,
    recipe,
    again,
    desk,
    style,
    sampler,
    numerals,
    glyphs,
    finish,
    chart,
    month,
    prove,
    export,
    pack,
    shop,
):
    inkline.add_command(_command)
