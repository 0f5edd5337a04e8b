"""The sentences for what can be wrong with a document, other than its quantities and times."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "document/whole": Wording("document", "documento"),
    "document/too_big": Wording(
        "this is {size} bytes; at most {most} bytes are read",
        "esto ocupa {size} bytes; se leen como máximo {most} bytes",
    ),
    "document/byte_order_mark": Wording(
        "this begins with a byte order mark; save it as UTF-8 without one",
        "esto empieza con una marca de orden de bytes; guárdelo como UTF-8 sin ella",
    ),
    "document/not_utf8": Wording(
        "this is not UTF-8 text (byte {at} cannot be read)",
        "esto no es texto UTF-8 (no se puede leer el byte {at})",
    ),
    "document/not_json": Wording(
        "this is not JSON: line {line}, column {column} cannot be read",
        "esto no es JSON: no se puede leer la línea {line}, columna {column}",
    ),
    "document/not_a_json_value": Wording(
        "{got} is not a JSON value",
        "{got} no es un valor JSON",
    ),
    "document/number_too_long": Wording(
        'a number in this has too many digits; write numbers as text, for example "2.5"',
        'un número tiene demasiadas cifras; escriba los números como texto, por ejemplo "2.5"',
    ),
    "document/too_deep": Wording(
        "this is nested more than {most} levels deep",
        "esto tiene más de {most} niveles de anidamiento",
    ),
    "document/duplicate_member": Wording(
        "{member} is written more than once in the same object; keep one",
        "{member} está escrito más de una vez en el mismo objeto; deje uno solo",
    ),
    "document/half_character": Wording(
        "this text holds half of a character (a lone surrogate); type the character again",
        "este texto contiene medio carácter (un sustituto suelto); vuelva a escribir el carácter",
    ),
    "document/missing": Wording("this must be there", "esto debe estar"),
    "document/unknown_member": Wording(
        "unknown member; the members here are {allowed}",
        "miembro desconocido; los miembros aquí son {allowed}",
    ),
    "document/not_an_object": Wording(
        "expected an object with members ({allowed}), got {got}",
        "se esperaba un objeto con miembros ({allowed}), se recibió {got}",
    ),
    "document/not_a_list": Wording("expected a list, got {got}", "se esperaba una lista, se recibió {got}"),
    "document/too_many": Wording(
        "expected at most {most} items, got {count}",
        "se esperaban como máximo {most} elementos, se recibieron {count}",
    ),
    "document/year_out_of_range": Wording(
        "expected a year from {first} to {last}, got {got}",
        "se esperaba un año de {first} a {last}, se recibió {got}",
    ),
    "document/not_text": Wording(
        "expected text in quotation marks, got {got}",
        "se esperaba texto entre comillas, se recibió {got}",
    ),
    "document/number_not_text": Wording(
        'expected text in quotation marks, got the number {got}; write "{got}"',
        'se esperaba texto entre comillas, se recibió el número {got}; escriba "{got}"',
    ),
    "document/blank_text": Wording(
        "expected text, got none; leave the member out or write null",
        "se esperaba texto y no hay ninguno; omita el miembro o escriba null",
    ),
    "document/text_too_long": Wording(
        "expected at most {most} characters, got {count}",
        "se esperaban como máximo {most} caracteres, se recibieron {count}",
    ),
    "document/control_character": Wording(
        "this text holds a control character ({got}); take it out",
        "este texto contiene un carácter de control ({got}); quítelo",
    ),
    "document/unknown_word": Wording(
        "expected one of {allowed}, got {got}",
        "se esperaba uno de estos: {allowed}; se recibió {got}",
    ),
    "document/not_this_text": Wording(
        "expected {expected}, got {got}", "se esperaba {expected}, se recibió {got}"
    ),
    "document/not_of_form": Wording(
        "expected {what} such as {example}, got {got}",
        "se esperaba {what} como {example}, se recibió {got}",
    ),
    "document/not_a_flag": Wording(
        "expected true or false, got {got}", "se esperaba true o false, se recibió {got}"
    ),
    "document/two_numbers": Wording(
        "{first} and {second} are two numbers: each has its own place; a pitch of 6/12 has the rise 6 and the "
        "run 12",
        "{first} y {second} son dos números: cada uno tiene su sitio; una pendiente de 6/12 tiene elevación 6 "
        "y tramo horizontal 12",
    ),
    "document/not_a_whole_number": Wording(
        "expected a whole number, 0 or more and without quotation marks, got {got}",
        "se esperaba un número entero, 0 o mayor y sin comillas, se recibió {got}",
    ),
    "document/out_of_range": Wording(
        "expected a number from {least} to {most}, got {got}",
        "se esperaba un número de {least} a {most}, se recibió {got}",
    ),
    "document/zero": Wording("this must be above 0, got {got}", "debe ser mayor que 0, se recibió {got}"),
    "document/nothing_of_that_name": Wording(
        "there is no {name} in {where}; named there: {names}",
        "no hay {name} en {where}; allí figuran: {names}",
    ),
    "document/name_taken": Wording(
        "{name} is already the name of {first}; names must differ",
        "{name} ya es el nombre de {first}; los nombres deben ser distintos",
    ),
    "document/id_taken": Wording(
        "{id} is already the id of {first}; ids must differ",
        "{id} ya es el id de {first}; los id deben ser distintos",
    ),
    "document/finish_before_start": Wording(
        "the finish {finish} is before the start {start}",
        "el final {finish} es anterior al comienzo {start}",
    ),
    "document/wider_place_later": Wording(
        "{got} is wider than {earlier}, which stands before it; places run from wide to narrow",
        "{got} es más amplio que {earlier}, que está antes; los lugares van de lo amplio a lo estrecho",
    ),
    "document/place_twice": Wording("{got} stands here twice", "{got} figura dos veces"),
    "edit/not_a_path": Wording(
        "{path} is not the path of a member",
        "{path} no es la ruta de un miembro",
    ),
    "edit/too_many": Wording(
        "these are {count} edits; at most {most} are taken at once",
        "son {count} cambios; se aceptan como máximo {most} de una vez",
    ),
    "edit/too_many_unread": Wording(
        "{most} entries could not be read already; mend some or take them out first",
        "ya hay {most} entradas que no se pudieron leer; corrija o quite algunas primero",
    ),
    "edit/no_such_photo": Wording(
        "{digest} is no photo of this treatment; take the photo first",
        "{digest} no es una foto de este tratamiento; tome primero la foto",
    ),
    "edit/no_such_item": Wording(
        "there is no item {item} in {where}",
        "no hay ningún elemento {item} en {where}",
    ),
    "edit/item_twice": Wording(
        "{where} has two items with the id {item}; it cannot be told which is meant",
        "{where} tiene dos elementos con el id {item}; no se sabe a cuál se refiere",
    ),
    "edit/other_id": Wording(
        "the item's id {got} is not the id in the path, {item}",
        "el id del elemento, {got}, no es el id de la ruta, {item}",
    ),
    "signed/wrong_shape": Wording("this cannot stand here: {got}", "esto no puede estar aquí: {got}"),
    "signed/unknown_member": Wording(
        "unknown member; a signed record has schema, record, sections, answers, check and signatures",
        "miembro desconocido; un registro firmado tiene schema, record, sections, answers, check "
        "y signatures",
    ),
    "signed/not_signed": Wording("this is not signed", "esto no está firmado"),
    "signed/other_algorithm": Wording(
        "expected a signature made with Ed25519", "se esperaba una firma hecha con Ed25519"
    ),
    "signed/unknown_key": Wording(
        "this was signed with a key that is not among those given",
        "se firmó con una clave que no está entre las indicadas",
    ),
    "signed/other_key": Wording(
        "this was signed with another key than the one named: if it is an earlier or later key of this firm, "
        "its changes of key show it (key_changes in the file or the bundle)",
        "se firmó con otra clave que la indicada: si es una clave anterior o posterior de esta empresa, sus "
        "cambios de clave lo muestran (key_changes en el archivo o en el paquete)",
    ),
    "signed/broken_signature": Wording(
        "the signature does not fit: the record or the signature was changed",
        "la firma no corresponde: se cambió el registro o la firma",
    ),
    "signed/section_not_bound": Wording(
        "the record does not bind this section", "el registro no vincula esta sección"
    ),
    "signed/no_salt": Wording(
        "the salt of this section is needed to verify it",
        "hace falta la sal de esta sección para verificarla",
    ),
    "signed/section_changed": Wording(
        "this is not the section that was signed", "esta no es la sección que se firmó"
    ),
    "signed/no_keys": Wording(
        "no public key came with the record: its signature was not verified",
        "el registro no trae ninguna clave pública: su firma no se verificó",
    ),
    "signed/not_a_key": Wording(
        "this is not the Ed25519 key of that digest", "esta no es la clave Ed25519 de esa huella digital"
    ),
    "signed/check_changed": Wording(
        "this is not the check that was signed", "esta no es la comprobación que se firmó"
    ),
    "signed/broken_seal": Wording(
        "what was sealed on the device, or its signature, was changed",
        "lo que se selló en el dispositivo, o su firma, se cambió",
    ),
    "signed/other_seal": Wording(
        "what was sealed on the device is another document, or another person's",
        "lo que se selló en el dispositivo es otro documento, o de otra persona",
    ),
    "signed/other_record": Wording(
        "this follows another record than this one", "esto sigue a otro registro y no a este"
    ),
    "signed/twice": Wording("it stands there twice", "está ahí dos veces"),
    "signed/other_kind": Wording("the record says that it is {said}", "el registro dice que es {said}"),
    "signed/other_reason": Wording(
        "this is not the reason that was signed", "este no es el motivo que se firmó"
    ),
    "signed/not_later": Wording(
        "expected a later version than {version}", "se esperaba una versión posterior a la {version}"
    ),
    "signed/not_in_the_log": Wording(
        "the log has other bytes there, or it lies elsewhere: who signed, as what or when was changed",
        "el registro de firmas tiene ahí otros bytes, o está en otro lugar: se cambió quién firmó o cuándo",
    ),
    "signed/broken_head": Wording(
        "the head of the log that came with the record is not signed with a key that counts",
        "la cabecera del registro de firmas que vino con el registro no está firmada con una clave que valga",
    ),
    "signed/after_its_key": Wording(
        "it says to have been signed after its key was replaced, on {end}",
        "dice haberse firmado después de que se reemplazó su clave, el {end}",
    ),
    "signed/forked_keys": Wording(
        "two changes replace the key {key}, or lead to one key: one of them was made by who holds the old key",
        "dos cambios reemplazan la clave {key}, o llevan a una misma: uno lo hizo quien tiene la anterior",
    ),
    "signed/not_canonical": Wording(
        "this has no canonical form: {got}", "esto no tiene forma canónica: {got}"
    ),
    "log/gap": Wording(
        "its entry stands at {got} where {expected} comes next: entries were taken out, or numbered anew",
        "su entrada está en {got} y sigue la {expected}: se quitaron entradas o se renumeraron",
    ),
    "log/leaf_changed": Wording(
        "the record's bytes are not those that were entered in the log at {index}",
        "los bytes del registro no son los que se anotaron en el registro de firmas en {index}",
    ),
    "log/node_changed": Wording(
        "a kept hash of the log is not what the entries give (level {level}, place {place})",
        "una huella digital guardada no es la que dan las entradas (nivel {level}, lugar {place})",
    ),
    "log/clock_set_back": Wording(
        "received at {at}, after one received at {before}: a clock was set back, or entries were swapped",
        "recibido a las {at}, tras uno recibido a las {before}: se atrasó un reloj o se cambiaron entradas",
    ),
    "log/received_other": Wording(
        "it is said to have come in at {at}, which is not when it was entered and covered by a signed head",
        "se dice que llegó el {at}, y no es cuando se anotó y lo cubrió una cabecera firmada",
    ),
    "log/digest_changed": Wording(
        "the digest kept beside the record is not that of its bytes",
        "la huella digital guardada junto al registro no es la de sus bytes",
    ),
    "log/unreadable": Wording(
        "what is stored there can't be read as something signed",
        "lo guardado ahí no se puede leer como algo firmado",
    ),
    "log/row_says_other": Wording(
        "{member} is kept as {kept}, signed was {signed}",
        "{member} está guardado como {kept}, se firmó {signed}",
    ),
    "log/check_changed": Wording(
        "its kept check by the rules is not the one that its digest names",
        "su comprobación guardada por las reglas no es la que nombra su huella digital",
    ),
    "log/check_other": Wording(
        "its kept check by the rules is not the one that it was signed with",
        "su comprobación guardada por las reglas no es aquella con la que se firmó",
    ),
    "log/check_gone": Wording(
        "the check by the rules that it was signed with is gone",
        "falta la comprobación por las reglas con la que se firmó",
    ),
    "log/replaces_other": Wording(
        "it does not replace the version that came before it", "no sustituye a la versión anterior"
    ),
    "log/follows_other": Wording(
        "it follows another record than the one it is kept with",
        "sigue a otro registro y no a aquel con el que está guardado",
    ),
    "log/section_gone": Wording(
        "its section {section} is gone, and no erasure names it",
        "falta su sección {section}, y ningún borrado la nombra",
    ),
    "log/erasure_unsigned": Wording(
        "it was erased without a signed entry in the log: nothing shows that its term was over",
        "se borró sin una entrada firmada en el registro: nada muestra que su plazo hubiera terminado",
    ),
    "log/erasure_other": Wording(
        "its erasure is not one of just what says something of people, after its term and on its day",
        "su borrado no es el de justo lo que dice algo de personas, tras su plazo y en su día",
    ),
    "log/erased_while_held": Wording(
        "it was erased while a legal hold stood", "se borró mientras regía una retención legal"
    ),
    "log/erased_within_term": Wording(
        "it was erased on {on}; by its kept checks it was to be kept until {until}",
        "se borró el {on}; según sus comprobaciones guardadas se debía conservar hasta el {until}",
    ),
    "log/row_gone": Wording(
        "what was entered at {index} is not there any more, or is kept with another firm",
        "lo que se anotó en {index} ya no está, o está guardado con otra empresa",
    ),
    "log/other_firm": Wording(
        "it, or the treatment that it is of, is kept with another firm than the one that signed it",
        "está guardado, o lo está su tratamiento, con otra empresa que la que lo firmó",
    ),
    "log/signed_without_record": Wording(
        "it is kept as {state}, and nothing of it is signed here: its record was taken out or moved",
        "está guardado como {state} y nada de él está firmado aquí: su registro se quitó o se movió",
    ),
    "log/node_beyond": Wording(
        "a hash is kept of entries beyond the {entries} that the log has: its end was cut off",
        "hay una huella digital de entradas más allá de las {entries} que hay: se cortó el final",
    ),
    "log/address_without_entry": Wording(
        "a proof page was given an address, and the log has no entry of its record",
        "se dio dirección a una página de prueba y el registro de firmas no tiene entrada de su registro",
    ),
    "log/noted_and_gone": Wording(
        "who did what says that it was signed at {at}, and the log does not have it: its end was cut off",
        "«quién hizo qué» dice que se firmó el {at} y no está en el registro de firmas: se cortó el final",
    ),
    "log/not_in_log": Wording(
        "it was signed and is not in the log", "se firmó y no está en el registro de firmas"
    ),
    "log/head_differs": Wording(
        "the signed head of size {size} is not what the entries give",
        "la cabecera firmada de tamaño {size} no es la que dan las entradas",
    ),
    "log/kept_head_differs": Wording(
        "the head of size {size} that was kept elsewhere does not fit: the log was rewritten, or is another",
        "la cabecera de tamaño {size} guardada aparte no corresponde: el registro se reescribió o es otro",
    ),
    "log/head_beyond": Wording(
        "a signed head covers {size} entries, the log has {entries}: entries were taken out",
        "una cabecera firmada cubre {size} entradas y hay {entries}: se quitaron entradas",
    ),
    "log/other_than_before": Wording(
        "the first {size} entries are not those that an earlier look found whole: the log was written anew",
        "las primeras {size} entradas no son las que halló una revisión anterior: el registro se reescribió",
    ),
    "log/shorter_than_before": Wording(
        "an earlier look found {size} entries, the log has {entries}: its end was cut off",
        "una revisión anterior halló {size} entradas y hay {entries}: se cortó el final",
    ),
    "log/look_broke_off": Wording(
        "the look broke off, since something stored can't be read; the machine's log of errors says where",
        "la revisión se interrumpió porque algo guardado no se puede leer; el registro de errores dice dónde",
    ),
    "log/key_not_in_force": Wording(
        "it was signed with the key {key}, which was not in force at its place in the log",
        "se firmó con la clave {key}, que no estaba en vigor en su lugar del registro de firmas",
    ),
    "log/key_not_introduced": Wording(
        "nothing in the log introduces the key {key}",
        "nada en el registro de firmas introduce la clave {key}",
    ),
    "log/key_change_other": Wording(
        "this change of key is not one of the key in force to a key of the firm",
        "este cambio de clave no es de la clave en vigor a una clave de la empresa",
    ),
    "log/key_change_unsigned": Wording(
        "this change of key is not signed by the old and the new key",
        "este cambio de clave no está firmado por la clave anterior y la nueva",
    ),
    "log/no_own_head": Wording(
        "entry {index} has no signed head of its own; nothing signed says when it came in: it was taken out",
        "la entrada {index} no tiene cabecera firmada propia; nada firmado dice cuándo llegó: se quitó",
    ),
    "log/heads_gone": Wording(
        "a look found {entries} entries with heads, and the first head now covers {size}: some were taken out",
        "una revisión halló {entries} entradas con sus cabeceras y la primera ya cubre {size}: se quitaron",
    ),
    "log/not_covered": Wording(
        "the newest head covers {size} of {entries} entries",
        "la cabecera más reciente cubre {size} de {entries} entradas",
    ),
    "log/time_stamp_early": Wording(
        "the time-stamp of the head of size {size} is older than that head says it is: one of both is not true",
        "el sello de tiempo de la cabecera de tamaño {size} es anterior a lo que esta dice: uno no es cierto",
    ),
    "log/time_stamp_changed": Wording(
        "the time-stamp of the head of size {size} is damaged, or was changed",
        "el sello de tiempo de la cabecera de tamaño {size} está dañado o se alteró",
    ),
    "log/time_stamp_of_other": Wording(
        "the time-stamp of the head of size {size} is of another head: the head was changed since",
        "el sello de tiempo de la cabecera de tamaño {size} es de otra cabecera: se alteró después",
    ),
    "form/uuid": Wording("an id (a UUID in lower case)", "un id (un UUID en minúsculas)"),
    "form/digest": Wording("a digest", "una huella digital SHA-256"),
    "form/place": Wording("a place or authority", "un lugar o una autoridad"),
    "form/country": Wording("a country's two letters", "las dos letras de un país"),
    "form/currency": Wording("a currency's three letters", "las tres letras de una moneda"),
    "form/language": Wording("a language", "un idioma"),
    "form/number": Wording("a number as text", "un número como texto"),
    "form/count": Wording("a count as text", "un número entero como texto"),
    "form/media_type": Wording("a media type", "un tipo de medio"),
}
