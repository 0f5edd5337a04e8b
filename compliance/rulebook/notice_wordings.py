"""The sentences of kind `notice`."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "notice/met": Wording(
        "{whom}: told {told}; {by} asks for it {asked}.",
        "{whom}: aviso del {told}; {by} lo exige {asked}.",
    ),
    "notice/late": Wording(
        "{whom}: told {told}, {observed} before the start; {by} asks for it {asked}. This notice "
        "serves a start from {serves} on: move the date, or say on the record why it was not. {mend}",
        "{whom}: aviso del {told}, {observed} antes del inicio; {by} lo exige {asked}. Este aviso sirve "
        "para un inicio desde el {serves}: cambie la fecha o explique en el registro por qué no se hizo. "
        "{mend}",
    ),
    "notice/not_in_time": Wording(
        "{whom}: told {told}; {by} asks for it {asked}. {mend}",
        "{whom}: aviso del {told}; {by} lo exige {asked}. {mend}",
    ),
    "notice/early": Wording(
        "{whom}: told {told}; {by} asks for it no more than {earliest} before the start. Tell them again. "
        "{mend}",
        "{whom}: aviso del {told}; {by} lo exige como máximo {earliest} antes del inicio. Avise de nuevo. "
        "{mend}",
    ),
    "notice/stale": Wording(
        "{whom}: the notice is stale: it names {named}, the treatment is on {day}. Tell them again with "
        "the new date. {mend}",
        "{whom}: el aviso ha caducado: indica el {named} y el tratamiento es el {day}. Avise de nuevo con la "
        "nueva fecha. {mend}",
    ),
    "notice/alternates": Wording(
        "{whom}: alternate dates that the notice names after the day on which it was given, different from "
        "each other and from its own date: {count}; {by} asks for {least}. Give a new notice with them. {mend}",
        "{whom}: fechas alternativas que nombra el aviso, posteriores al día en que se dio y distintas entre "
        "sí y de la suya: {count}; {by} exige {least}. Dé un aviso nuevo con ellas. {mend}",
    ),
    "notice/expired": Wording(
        "{whom}: the notice is stale: it is for {named} and holds for {valid} from then; the start is "
        "{start}. Tell them again with the new time. {mend}",
        "{whom}: el aviso ha caducado: es para el {named} y vale {valid} desde entonces; el inicio es el "
        "{start}. Avise de nuevo con la nueva hora. {mend}",
    ),
    "notice/means": Wording(
        "{whom}: told this way: {means}; {by} allows: {allowed}. Tell them again that way. {mend}",
        "{whom}: avisado así: {means}; {by} permite: {allowed}. Avise de nuevo de esa forma. {mend}",
    ),
    "notice/none": Wording(
        "{whom}: no notice is on the record; {by} asks for it {asked} (by {due}). Tell them and enter when "
        "and by which means. {mend}",
        "{whom}: no consta ningún aviso; {by} lo exige {asked} (a más tardar el {due}). Avise y anote "
        "cuándo y por qué medio. {mend}",
    ),
    "notice/none_undated": Wording(
        "{whom}: no notice is on the record; {by} asks for it {asked}. Tell them and enter when and by "
        "which means. {mend}",
        "{whom}: no consta ningún aviso; {by} lo exige {asked}. Avise y anote cuándo y por qué medio. {mend}",
    ),
    "notice/not_yet_due": Wording(
        "{whom}: not yet due: tell them by {due}.",
        "{whom}: aún no vence: avise a más tardar el {due}.",
    ),
    "notice/not_asked": Wording(
        "{whom}: due only to those who ask; the record does not show that anybody did.",
        "{whom}: solo se debe a quien lo pide; el registro no muestra que alguien lo pidiera.",
    ),
    "notice/nobody": Wording(
        "There is nobody here whom this asks to be told.",
        "Aquí no hay nadie a quien haya que avisar.",
    ),
    "notice/missing": Wording(
        "{whom}: can't tell, because this is not stated: {members}.",
        "{whom}: no se puede saber, porque no consta: {members}.",
    ),
    "notice/returned": Wording(
        "{whom}: can't tell: a notice came back ({returned}), and it may be this one. Say in the follow-up "
        "whose it was, and tell them again. {mend}",
        "{whom}: no se puede saber: un aviso fue devuelto ({returned}), y puede ser este. Diga en la anotación "
        "posterior de quién era y avise de nuevo. {mend}",
    ),
    "notice/before_sent": Wording(
        "{whom}: can't tell: by the record the notice arrived {delivered}, before it was sent ({sent}). Look "
        "which of the times is wrong. {mend}",
        "{whom}: no se puede saber: según el registro el aviso llegó el {delivered}, antes de enviarse "
        "({sent}). Mire cuál de las horas es errónea. {mend}",
    ),
    "notice/same_name": Wording(
        "{whom}: can't tell: somebody of the same name was told, and no other notice is on the record. If it "
        "is the same person, enter the name with the notice. {mend}",
        "{whom}: no se puede saber: se avisó a alguien con el mismo nombre, y no consta otro aviso. Si es la "
        "misma persona, anote el nombre en el aviso. {mend}",
    ),
    "notice/same_notice": Wording(
        "{whom}: can't tell: one notice is on the record twice. If each was given to somebody else, enter the "
        "names with them. {mend}",
        "{whom}: no se puede saber: un aviso consta dos veces. Si cada uno se dio a otra persona, anote los "
        "nombres. {mend}",
    ),
    "notice/whose": Wording(
        "{whom}: can't tell: a notice that names nobody is on the record, and it may have been for somebody "
        "else. Enter the name with it. {mend}",
        "{whom}: no se puede saber: consta un aviso sin nombre, y puede haber sido para otra persona. Anote "
        "el nombre en él. {mend}",
    ),
    "notice/otherwise": Wording(
        "{whom}: can't tell: told {told}, but of something else than is on the record now, such as another "
        "product or applicator. Tell them again. {mend}",
        "{whom}: no se puede saber: aviso del {told}, pero de algo distinto de lo que consta ahora, como otro "
        "producto o aplicador. Avise de nuevo. {mend}",
    ),
    "notice/voicemail": Wording(
        "{whom}: can't tell: a message was left on voicemail, and nothing shows that it was heard; {by} does "
        "not say that this will do. Call again, or tell them another way. {mend}",
        "{whom}: no se puede saber: se dejó un mensaje de voz, y nada muestra que se escuchó; {by} no dice que "
        "esto baste. Llame de nuevo o avise de otra forma. {mend}",
    ),
    "notice/perhaps": Wording(
        "{whom}: can't tell whether they must be told: {because}. Ask, or tell them. {mend}",
        "{whom}: no se puede saber si hay que avisarle: {because}. Pregunte o avise. {mend}",
    ),
}
