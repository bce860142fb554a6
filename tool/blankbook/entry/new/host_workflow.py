"""What a code host runs for a ledger: review, check and site; only main is published."""


def workflow_text(version: str) -> str:
    """Return the workflow of a ledger that is a repository of its own.

    It asks only for the right to read, so a pull request gets no other. Names that a contributor
    chose reach a shell only through the environment, where they cannot run as commands.
    """
    return _WORKFLOW.replace("VERSION", version)


_WORKFLOW = """\
# Looks the ledger through, and publishes the site of what is on the main branch.
name: ledger

on:
  push:
    branches: [main]
  pull_request:

permissions:
  contents: read

env:
  # The folder that shop.yaml is in.
  LEDGER: .
  # What is installed: set the repository's variable BLANKBOOK to the address of a wheel of
  # blankbook VERSION, or of a repository, that you trust, or to ./ and its path if it is kept
  # here. No name is looked up in a public index.
  BLANKBOOK: ${{ vars.BLANKBOOK }}

jobs:
  look:
    runs-on: ubuntu-latest
    timeout-minutes: 15
    steps:
      # Named by major version: whoever runs this should pin the commit of that release.
      - uses: actions/checkout@v4
        with:
          fetch-depth: 0
          persist-credentials: false
      - uses: actions/setup-python@v5
        with:
          python-version: "3.12"
      - name: Install
        run: |
          case "$BLANKBOOK" in
            https://*|git+https://*|./*) pip install "$BLANKBOOK" ;;
            *) echo "::error::set the variable BLANKBOOK to an address that begins with https://"
               exit 1 ;;
          esac
      # Before the check, so that it is there also where the check finds a fault.
      - name: What the pull request changes, by meaning
        if: github.event_name == 'pull_request'
        run: |
          base=$(git rev-parse --short "$(git merge-base "origin/$GITHUB_BASE_REF" HEAD)")
          blankbook changes "$base" HEAD --ledger "$LEDGER" --format markdown \\
            >> "$GITHUB_STEP_SUMMARY"
      - name: Faults, as annotations beside the lines
        run: blankbook check --ledger "$LEDGER" --format github
      - name: The site
        run: blankbook build --ledger "$LEDGER" --out catalogue
      - uses: actions/upload-pages-artifact@v3
        with:
          path: catalogue

  publish:
    # What the shop knows of its suppliers is its own: keep the site private, or build --public.
    if: github.ref == 'refs/heads/main' && vars.PUBLISH == 'yes'
    needs: look
    runs-on: ubuntu-latest
    permissions:
      pages: write
      id-token: write
    environment: github-pages
    steps:
      - uses: actions/deploy-pages@v4
"""
