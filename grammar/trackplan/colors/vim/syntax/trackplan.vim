" Written by `python -m trackplan.coloring` from plan.lark: do not edit.
if exists("b:current_syntax")
  finish
endif
syntax match trackplanName /\v\a[[:alnum:]_]*%([-.]+[[:alnum:]_]+)*/
syntax match trackplanNumber /\v%([[:alnum:]_.])@<!%([2-9]x\s*)?%([1-4]\/0|\d+%(\.\d+)?)%(\s*%(degrees|cm\/s|mm\/s|mohm|AWG|m\/s|mm2|mm²|ohm|cm|ft|in|mA|mm|ms|\%|A|C|F|V|m|s)%(\s+%(solid|stranded))?)?%([[:alnum:]_.,\/%])@!/
syntax match trackplanKeyword /\v%([[:alnum:]_.-])@<!%(approach-track|transfer-table|isolated-frog|construction|metal-wheels|movable-frog|sprung-frog|symmetrical|everywhere|unweighted|automatic|capacitor|dead-frog|diverging|live-frog|positions|staggered|three-way|turntable|unpowered|contacts|crossing|district|endplate|far-side|gauntlet|reverser|scissors|soldered|switched|touching|aligned|because|between|booster|closure|crossed|include|joiners|jumpers|opening|segment|through|touches|turnout|without|accept|around|beside|common|couple|crawls|curved|double|engine|enters|feeder|joined|leaves|module|number|single|solder|sprung|blade|block|joint|limit|order|owner|rails|right|scale|split|stock|train|trips|wants|bond|both|code|dead|frog|from|lamp|left|legs|onto|open|part|pass|plan|rail|slip|stop|stub|when|with|and|any|bus|cab|cut|end|gap|leg|wye|at|in|of|or|to)%([[:alnum:]_.-])@!/
syntax match trackplanStatement /\v^%(approach-track|transfer-table|construction|three-way|turntable|crossing|district|endplate|gauntlet|reverser|scissors|booster|include|segment|turnout|accept|common|couple|engine|feeder|module|solder|block|joint|limit|rails|scale|train|bond|frog|lamp|plan|slip|stub|any|bus|cab|cut|gap)%([[:alnum:]_.-])@!/
syntax match trackplanArrow /->/
syntax match trackplanText /"[^"]*"/
syntax match trackplanComment /#.*$/ contains=@Spell
highlight default link trackplanName Identifier
highlight default link trackplanNumber Number
highlight default link trackplanKeyword Keyword
highlight default link trackplanStatement Statement
highlight default link trackplanArrow Operator
highlight default link trackplanText String
highlight default link trackplanComment Comment
let b:current_syntax = "trackplan"
