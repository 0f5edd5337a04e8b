"""Why a backup was not made, or not put back, in one sentence."""

from shared.wording import Blanks, Catalogue, Wording, say

WORDINGS: Catalogue = {
    "backup/there_already": Wording(
        "{file} is there already; nothing was overwritten", "{file} ya existe; no se sobrescribió nada"
    ),
    "backup/no_folder": Wording("there is no folder {folder}", "no existe la carpeta {folder}"),
    "backup/inside": Wording(
        "{file} lies inside {folder}, of which it would be a backup; choose another disk",
        "{file} está dentro de {folder}, de la cual sería la copia; elija otro disco",
    ),
    "backup/at_work": Wording(
        "another backup to {file} is being made", "se está haciendo otra copia en {file}"
    ),
    "backup/not_copied": Wording(
        "the database could not be copied: {why}", "no se pudo copiar la base de datos: {why}"
    ),
    "backup/no_program": Wording(
        "there is no {program} on PATH; it comes with the client programs of PostgreSQL",
        "no hay {program} en PATH; viene con los programas cliente de PostgreSQL",
    ),
    "backup/program_failed": Wording("{program} ended with: {why}", "{program} terminó con: {why}"),
    "backup/unwritable": Wording("{file} can't be written: {why}", "no se puede escribir {file}: {why}"),
    "restore/not_a_backup": Wording(
        "{file} is no backup of this service: {why}", "{file} no es una copia de este servicio: {why}"
    ),
    "restore/changed": Wording(
        "{name} in the backup is not what was put into it", "{name} en la copia no es lo que se guardó en ella"
    ),
    "restore/does_not_belong": Wording(
        "{name} does not belong into such a backup, so nothing of it was taken",
        "{name} no corresponde a una copia así, de modo que no se tomó nada de ella",
    ),
    "restore/no_database": Wording(
        "there is no database ({name}) in the backup", "no hay base de datos ({name}) en la copia"
    ),
    "restore/unreadable_row": Wording(
        "a row in {name} can't be read: {why}", "una fila de {name} no se puede leer: {why}"
    ),
    "restore/unknown_table": Wording(
        "there is no table {name} in this program", "este programa no tiene la tabla {name}"
    ),
    "restore/another_firm": Wording(
        "{name} holds rows of another firm than {firm}", "{name} contiene filas de otra empresa que {firm}"
    ),
    "restore/does_not_fit": Wording(
        "the rows do not fit together: {why}", "las filas no encajan entre sí: {why}"
    ),
    "restore/not_empty": Wording(
        "there are accounts or firms here already; a firm is put into an empty service alone",
        "aquí ya hay cuentas o empresas; una empresa solo se pone en un servicio vacío",
    ),
    "restore/other_engine": Wording(
        "the backup is of {theirs}, and DATABASE_URL names {ours}",
        "la copia es de {theirs}, y DATABASE_URL indica {ours}",
    ),
    "restore/newer": Wording(
        "the backup was made by a newer version of this program ({migration})",
        "la copia es de una versión más nueva de este programa ({migration})",
    ),
    "restore/has_data": Wording(
        "there are accounts or firms here already; --replace puts the backup in their place",
        "aquí ya hay cuentas o empresas; --replace pone la copia en su lugar",
    ),
    "restore/unknown_loss": Wording(
        "what is here can't be read, so nobody knows what would be lost: {why}; --lose-entries puts the backup "
        "in its place all the same",
        "lo que hay aquí no se puede leer, y nadie sabe qué se perdería: {why}; --lose-entries pone la copia "
        "en su lugar de todos modos",
    ),
    "restore/loses_entries": Wording(
        "entries of the log that are here and not in the backup, and how many of them are erasures, which "
        "would be undone: {lost}. What was there before is there again; --lose-entries puts the backup in all "
        "the same",
        "entradas del registro de firmas que están aquí y no en la copia y, de ellas, borrados, que se "
        "desharían: {lost}. Está de nuevo lo que había antes; --lose-entries pone la copia de todos modos",
    ),
    "restore/broken_off": Wording(
        "the restore did not come to its end: {why}", "la restauración no llegó a su fin: {why}"
    ),
}


class BackupError(RuntimeError):
    """A backup that was not made or not put back; says why in every language."""

    def __init__(self, wording_id: str, **blanks: str) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks: Blanks = blanks

    def say(self, language: str) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, language)
