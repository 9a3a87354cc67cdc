"""Write the JSON Schemas of plan, timeline and hall document beside the package's other data."""

from pathlib import Path

from halewright.files import documents

FOLDER = Path(__file__).parents[1] / "src" / "halewright" / "data" / "schema"


def main() -> None:
    """Write every schema whole."""
    for name, text in documents.json_schemas().items():
        documents.write(path=FOLDER / name, text=text)


if __name__ == "__main__":
    main()
