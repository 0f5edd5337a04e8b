"""The words of the record sheet, in the order in which it uses them."""

from shared.wording import Catalogue, Wording

HEAD: Catalogue = {
    "title": Wording("Pesticide application record", "Registro de aplicación de pesticida"),
    "title-other": Wording("Treatment record", "Registro de tratamiento"),
    "not-signed": Wording(
        "NOT SIGNED – a working document, not a record",
        "NO FIRMADO – documento de trabajo, no es un registro",
    ),
    "number": Wording("Record", "Registro"),
    "version": Wording("Version", "Versión"),
    "result": Wording("Result", "Resultado"),
    "state": Wording("State", "Estado"),
    "state-signed": Wording("Signed", "Firmado"),
    "state-not-signed": Wording("Not signed", "No firmado"),
    "title-void": Wording("VOID – {title}", "ANULADO – {title}"),
    "result-void": Wording("void (had stated: {result})", "anulado (indicaba: {result})"),
    "state-void": Wording("Void", "Anulado"),
    "state-void-later": Wording("Void since version {version}", "Anulado desde la versión {version}"),
    "state-superseded": Wording("Superseded by version {version}", "Sustituido por la versión {version}"),
    "stamp-void": Wording("VOID – this record does not hold", "ANULADO – este registro no vale"),
    "stamp-void-by": Wording(
        "VOID – version {version} made this record void", "ANULADO – la versión {version} anuló este registro"
    ),
    "stamp-superseded": Wording(
        "SUPERSEDED – version {version} of this record exists and holds",
        "SUSTITUIDO – existe la versión {version} de este registro, que es la que vale",
    ),
    "state-corrected": Wording("Signed; corrects an earlier version", "Firmado; corrige una versión anterior"),
    "subject": Wording("Record {number}, version {version}", "Registro {number}, versión {version}"),
    "identity": Wording(
        "Record {number} · version {version} · {digest} · sheet {paper}",
        "Registro {number} · versión {version} · {digest} · hoja {paper}",
    ),
    "page": Wording("Page {{page}} of {{pages}}", "Página {{page}} de {{pages}}"),
    "foot": Wording(
        "The label is the law. A record of facts, not an approval; local codes and licensed practice come "
        "first.",
        "La etiqueta es la ley. Registro de hechos, no una aprobación; "
        "prevalecen los códigos locales y la práctica con licencia.",
    ),
    "not-recorded": Wording("not recorded", "no registrado"),
    "none": Wording("none", "ninguno"),
    "withheld": Wording("Withheld from this copy", "No incluido en esta copia"),
    "firm-withheld": Wording("firm: withheld from this copy", "empresa: no incluida en esta copia"),
    "erased": Wording("Erased after the term of keeping", "Borrado tras el plazo de conservación"),
    "erased-or-not-recorded": Wording("erased or not recorded", "borrado o no registrado"),
    "erased-title": Wording("Erased", "Borrado"),
    "erased-text": Wording(
        "What this record said of people was erased on {on}, after the term under {under} (kept until "
        "{until}). Where it stood, nothing is printed. The digests of what was erased, and all signatures, "
        "still hold.",
        "Lo que este registro decía de personas se borró el {on}, tras el plazo según {under} (guardado hasta "
        "el {until}). En su lugar no se imprime nada. Las huellas digitales de lo borrado y todas las firmas "
        "siguen valiendo.",
    ),
    "withheld-title": Wording("Withheld", "No incluido"),
    "withheld-text": Wording(
        "These parts of the record are not in this copy. The record binds them by these digests: {sections}",
        "Estas partes del registro no están en esta copia. El registro las vincula con estas huellas "
        "digitales: {sections}",
    ),
}

CORRECTION: Catalogue = {
    "correction": Wording("Correction", "Corrección"),
    "replaces": Wording("Replaces", "Reemplaza"),
    "replaces-version": Wording("version {version}", "versión {version}"),
    "replaced-digest": Wording("Digest of the version replaced", "Huella digital de la versión reemplazada"),
    "reason": Wording("Reason for the correction", "Motivo de la corrección"),
    "corrected-at": Wording("Corrected", "Corregido"),
}

VOID: Catalogue = {
    "correction": Wording("Made void", "Anulación"),
    "replaces": Wording("Makes void", "Anula"),
    "reason": Wording("Why the record is void", "Por qué se anula el registro"),
    "corrected-at": Wording("Made void", "Anulado"),
}

SINCE: Catalogue = {
    "since": Wording("Since then", "Desde entonces"),
    "corrected-by": Wording(
        "Version {version} of this record was signed later. It holds, and this one no longer does.",
        "La versión {version} de este registro se firmó después. Vale ella, y esta ya no.",
    ),
    "void-by": Wording(
        "Version {version}, signed later, made this record void. It states why.",
        "La versión {version}, firmada después, anuló este registro. Ella dice por qué.",
    ),
    "digest": Wording("Digest of that version", "Huella digital de esa versión"),
}

WORK: Catalogue = {
    "when": Wording("Date and time", "Fecha y hora"),
    "date": Wording("Date of application", "Fecha de aplicación"),
    "date-planned": Wording("Date planned", "Fecha prevista"),
    "zone-withheld": Wording("time zone: withheld from this copy", "zona horaria: no incluida en esta copia"),
    "started": Wording("Start", "Inicio"),
    "stopped": Wording("Stop", "Fin"),
    "planned": Wording("planned {time}", "previsto {time}"),
    "reentry": Wording("Re-entry from", "Reingreso desde"),
    "recorded": Wording("Recorded", "Anotado"),
    "entered-by": Wording("by {name}", "por {name}"),
    "pauses": Wording("Pauses", "Pausas"),
    "why": Wording("Why not treated", "Por qué no se trató"),
    "why-in-part": Wording("Why only in part", "Por qué solo en parte"),
    "customer": Wording("Applied for", "Aplicado para"),
    "customer-only": Wording("Customer", "Cliente"),
    "name": Wording("Name", "Nombre"),
    "address": Wording("Address", "Dirección"),
    "phone": Wording("Telephone", "Teléfono"),
    "contact": Wording("Telephone, e-mail", "Teléfono, correo"),
    "licensee": Wording("Licensed applicator", "Aplicador con licencia"),
    "firm": Wording("Firm", "Empresa"),
    "licence": Wording("Licence", "Licencia"),
    "holder": Wording("Holder", "Titular"),
    "number": Wording("Licence no.", "N.º de licencia"),
    "categories": Wording("Categories", "Categorías"),
    "valid": Wording("Valid", "Vigencia"),
    "valid-span": Wording("{start} to {end}", "{start} a {end}"),
    "valid-from": Wording("from {start}", "desde {start}"),
    "valid-to": Wording("to {end}", "hasta {end}"),
    "insurance": Wording("Insurance", "Seguro"),
    "insurance-said": Wording("{insurer}, policy {policy}", "{insurer}, póliza {policy}"),
    "cover": Wording("cover {amount}", "cobertura {amount}"),
    "applied-by": Wording("Applied by", "Aplicado por"),
    "present": Wording("Present", "Presentes"),
    "role": Wording("Role", "Función"),
    "tasks": Wording("Tasks", "Tareas"),
    "positions": Wording("Where, how long", "Dónde, cuánto tiempo"),
    "wore": Wording("wore {list}", "llevaba {list}"),
    "no-licence": Wording("none", "ninguna"),
    "supervised": Wording("Supervised by {name}", "Supervisado por {name}"),
    "trained": Wording("Trained {day}", "Capacitado el {day}"),
}

PLACE: Catalogue = {
    "site": Wording("Site and area", "Sitio y superficie"),
    "site-name": Wording("Site", "Sitio"),
    "site-address": Wording("Address treated", "Dirección tratada"),
    "use": Wording("Use", "Uso"),
    "indoors": Wording("indoors", "en interiores"),
    "outdoors": Wording("outdoors", "en exteriores"),
    "targets": Wording("Against", "Contra"),
    "total-area": Wording("Total area treated", "Superficie total tratada"),
    "surface": Wording("Surface", "Superficie"),
    "kind": Wording("Kind", "Tipo"),
    "material": Wording("Material", "Material"),
    "plan-area": Wording("Plan area", "Área en planta"),
    "pitch": Wording("Pitch", "Pendiente"),
    "slope-area": Wording("Area by plan and pitch", "Área por pendiente"),
    "treated-area": Wording("Area treated", "Superficie tratada"),
    "planned-area": Wording("Area planned", "Superficie prevista"),
    "permits": Wording("permits: {list}", "permisos: {list}"),
    "no-permits": Wording("none", "ninguno"),
    "feature": Wording("To be protected", "A proteger"),
    "protected-by": Wording("Step taken, time, by whom", "Medida tomada, hora, por quién"),
    "distance": Wording("Distance", "Distancia"),
    "bearing": Wording("Direction", "Dirección"),
    "discharges": Wording("Discharges to", "Descarga en"),
}

MIX: Catalogue = {
    "products": Wording("Products applied", "Productos aplicados"),
    "products-nth": Wording("Mix {nth} of {total}", "Mezcla {nth} de {total}"),
    "product": Wording("Product", "Producto"),
    "products-none": Wording("Products", "Productos"),
    "products-mixed": Wording("Products mixed", "Productos mezclados"),
    "registration-epa": Wording("EPA reg. no.", "N.º de reg. EPA"),
    "registration": Wording("Registration no.", "N.º de registro"),
    "exempt": Wording("none (exempt)", "ninguno (exento)"),
    "mixed": Wording("Mixed", "Mezclado"),
    "drawn": Wording("Drawn", "Tomado"),
    "applied": Wording("Total applied", "Total aplicado"),
    "as-sold": Wording("{share} active", "{share} activo"),
    "product-rate": Wording("Rate", "Dosis"),
    "strength": Wording("Strength", "Concentración"),
    "restricted": Wording("restricted use", "uso restringido"),
    "general": Wording("not restricted use", "sin restricción de uso"),
    "signal": Wording("Signal word: {word}", "Palabra de advertencia: {word}"),
    "active": Wording("active: {list}", "activo: {list}"),
    "density": Wording("density {value}", "densidad {value}"),
    "lot": Wording("lot {lot}", "lote {lot}"),
    "supplier": Wording("from {supplier}", "de {supplier}"),
    "label": Wording("Label {version}", "Etiqueta {version}"),
    "label-says": Wording("label sets {limits}", "la etiqueta fija {limits}"),
    "label-ppe": Wording("label's protective equipment: {list}", "equipo de protección de la etiqueta: {list}"),
    "label-targets": Wording("against {list}", "contra {list}"),
    "label-sites": Wording("on {list}", "en {list}"),
    "label-not-on": Wording("not on {list}", "no en {list}"),
    "label-steps": Wording("label's steps: {list}", "medidas de la etiqueta: {list}"),
    "label-digest": Wording("label digest {digest}", "huella digital de la etiqueta {digest}"),
    "at-most": Wording("{what} at most {max}", "{what} como máximo {max}"),
    "at-least": Wording("{what} at least {min}", "{what} como mínimo {min}"),
    "between": Wording("{what} {min} to {max}", "{what} de {min} a {max}"),
    "diluent": Wording("Diluent", "Diluyente"),
    "mix-made": Wording("Finished mix made", "Mezcla preparada"),
    "mix-applied": Wording("Finished mix applied", "Mezcla aplicada"),
    "measured-by": Wording("measured by {how}", "medido por {how}"),
    "coverage": Wording("Finished mix per area", "Mezcla por superficie"),
    "left-over": Wording("Left over", "Sobrante"),
    "left-over-on": Wording("on {surface}", "en {surface}"),
    "used-applied": Wording("Applied", "Aplicado"),
    "used-per-area": Wording("Applied per area", "Aplicado por superficie"),
    "mixed-at": Wording("mixed {place}", "lugar de la mezcla: {place}"),
    "form-used": Wording("Form", "Forma"),
    "loads": Wording("Loads", "Cargas"),
    "batch": Wording("batch {batch}", "lote de mezcla {batch}"),
    "from-record": Wording("from record {record}", "del registro {record}"),
    "with": Wording("Applied with", "Aplicado con"),
    "where-applied": Wording("Applied to", "Aplicado a"),
    "how-computed": Wording(
        "Computed: total applied = mixed × mix applied ÷ mix made; rate = total applied ÷ area; "
        "strength = mixed ÷ mix made.",
        "Calculado: total aplicado = mezclado × aplicada ÷ preparada; dosis = total aplicado ÷ superficie; "
        "concentración = mezclado ÷ preparada.",
    ),
    "how-computed-undiluted": Wording(
        "Computed: rate = total applied ÷ area. Not diluted: the strength is the product's own.",
        "Calculado: dosis = total aplicado ÷ superficie. Sin diluir: la concentración es la del producto.",
    ),
    "not-computable": Wording("not computable", "no calculable"),
    "no-mix": Wording("No product was applied.", "No se aplicó ningún producto."),
}

CONDITIONS: Catalogue = {
    "weather": Wording("Wind and weather", "Viento y tiempo"),
    "at": Wording("Time", "Hora"),
    "wind-from": Wording("Wind from", "Viento de"),
    "wind-speed": Wording("Wind speed", "Velocidad"),
    "gust": Wording("Gust", "Ráfaga"),
    "temperature": Wording("Temperature", "Temperatura"),
    "humidity": Wording("Humidity", "Humedad"),
    "sky": Wording("Sky", "Cielo"),
    "read-by": Wording("Read by", "Leído por"),
    "calm": Wording("calm", "calma"),
    "variable": Wording("variable", "variable"),
    "no-readings": Wording("No reading was taken.", "No se tomó ninguna lectura."),
    "forecast": Wording("Forecast", "Pronóstico"),
    "forecast-dry": Wording("dry until {time}", "seco hasta {time}"),
    "forecast-rain": Wording("rain {share}", "lluvia {share}"),
    "forecast-issued": Wording("issued {time}", "emitido {time}"),
    "equipment": Wording("Apparatus", "Equipo"),
    "method": Wording("Method", "Método"),
    "plate": Wording("Plate or mark", "Placa o marca"),
    "tank": Wording("Tank", "Tanque"),
    "pressure": Wording("Pressure", "Presión"),
    "tip": Wording("Tip", "Boquilla"),
    "flow": Wording("Flow", "Caudal"),
    "calibrated": Wording("Calibrated", "Calibrado"),
    "backflow": Wording("Backflow", "Antirretorno"),
}

CARE: Catalogue = {
    "protection": Wording("Runoff and drift", "Escorrentía y deriva"),
    "step": Wording("Step taken", "Medida tomada"),
    "other-steps": Wording("Other steps", "Otras medidas"),
    "done-by": Wording("By", "Por"),
    "evidence-said": Wording("{count} file(s): {digests}", "{count} archivo(s): {digests}"),
    "no-steps": Wording("none", "ninguna"),
    "notices": Wording("Notices and signs", "Avisos y letreros"),
    "told": Wording("Told", "Avisado"),
    "means": Wording("Means", "Medio"),
    "sent": Wording("Sent", "Enviado"),
    "delivered": Wording("Delivered", "Entregado"),
    "notice-for": Wording("For", "Para"),
    "alternates": Wording("or {dates}", "o {dates}"),
    "notice-apart": Wording("notice kept apart, {digest}", "aviso guardado aparte, {digest}"),
    "signs": Wording("Signs posted", "Letreros colocados"),
    "sign-size": Wording("{width} wide, {height} high", "{width} de ancho, {height} de alto"),
    "sign-letters": Wording("letters of {letters}", "letras de {letters}"),
    "incidents": Wording("Incidents", "Incidentes"),
    "incident": Wording("Incident", "Incidente"),
    "no-incidents": Wording("None.", "Ninguno."),
    "incidents-unasked": Wording("Not recorded.", "No registrado."),
    "amount": Wording("Amount", "Cantidad"),
    "what-happened": Wording("What happened", "Qué ocurrió"),
    "action": Wording("Action: {text}", "Acción: {text}"),
    "reported": Wording("Reported to {whom} {time}", "Comunicado a {whom} {time}"),
    "remarks": Wording("Remarks", "Notas"),
}

AFTER: Catalogue = {
    "follow-ups": Wording("Afterwards", "Después"),
    "follow-up-kind": Wording("What", "Qué"),
    "detail": Wording("Detail", "Detalle"),
    "to-another-version": Wording(
        "added to another version of this record", "añadido a otra versión de este registro"
    ),
    "signed-by": Wording("Signed by", "Firmado por"),
    "role-manager": Wording("manager", "gerencia"),
    "role-crew": Wording("crew", "cuadrilla"),
    "meaning": Wording("meaning: {meaning}", "significado: {meaning}"),
    "signed-at": Wording("Time of signing", "Hora de la firma"),
    "device-at": Wording("device {time}", "dispositivo {time}"),
    "received": Wording("received {time}", "recibido {time}"),
    "received-at-its-word": Wording(
        "received {time} – stated, not verified", "recibido {time} – indicado, no verificado"
    ),
    "at-its-word": Wording("Stated, not verified.", "Indicado, no verificado."),
    "key": Wording("Key ({algorithm})", "Clave ({algorithm})"),
    "signature-value": Wording("Signature value", "Valor de la firma"),
    "digest": Wording("Digest of the record", "Huella digital del registro"),
    "document-digest": Wording("Digest of the document", "Huella digital del documento"),
    "verified": Wording(
        "Verified for this print with this key: compare its digest with the one that the firm has given. "
        "The evidence is the record, not this paper.",
        "Verificado para esta impresión con esta clave: compare su huella digital con la que dio la empresa. "
        "La prueba es el registro, no este papel.",
    ),
    "not-verified": Wording(
        "THE SIGNATURE WAS NOT VERIFIED for this print: no public key came with the record. "
        "The evidence is the record, not this paper.",
        "LA FIRMA NO SE VERIFICÓ para esta impresión: el registro no trae ninguna clave pública. "
        "La prueba es el registro, no este papel.",
    ),
    "pdf-self-made": Wording(
        "As a file (PDF) it is signed: so it came, unaltered, from this firm's service. The certificate is "
        "self-made; nobody else vouches for it.",
        "Como archivo (PDF) está firmada: así salió, sin alterar, del servicio de esta empresa. El certificado "
        "es propio; nadie más responde por él.",
    ),
    "pdf-vouched": Wording(
        "As a file (PDF) it is signed: so it came, unaltered, from this firm's service. For the certificate "
        "vouches {issuer}.",
        "Como archivo (PDF) está firmada: así salió, sin alterar, del servicio de esta empresa. Por el "
        "certificado responde {issuer}.",
    ),
    "attachment": Wording(
        "The signed record as data (JSON), by which it can be verified",
        "El registro firmado como datos (JSON), con los que se puede verificar",
    ),
    "cautions": Wording("Cautions", "Precauciones"),
    "cautions-text": Wording(
        "The product label is the law: follow it first. Wear the protective equipment that it demands. "
        "Work at height only with fall protection; keep ladders, wands and wet hoses away from power lines. "
        "Keep mix and rinse water out of drains, streams and neighbours' ground. "
        "Local codes and licensed practice come first.",
        "La etiqueta es la ley: sígala primero. Use el equipo de protección que exige. "
        "En altura, solo con protección contra caídas; escaleras, lanzas y mangueras, lejos de líneas "
        "eléctricas. "
        "Ni mezcla ni enjuague a desagües, arroyos o vecinos. "
        "Prevalecen códigos locales y práctica con licencia.",
    ),
}

WORDS: Catalogue = {
    f"{part}/{wording_id}": wording
    for part, catalogue in {
        "head": HEAD,
        "correction": CORRECTION,
        "void": VOID,
        "since": SINCE,
        "work": WORK,
        "place": PLACE,
        "mix": MIX,
        "conditions": CONDITIONS,
        "care": CARE,
        "after": AFTER,
    }.items()
    for wording_id, wording in catalogue.items()
}
"""Every phrase by its part and id: `mix/strength`."""
