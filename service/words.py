"""The project's own words: short, easy to spell, and harmless in any order."""

PASSPHRASE_WORDS = tuple(
    """
    acorn actor album alder alley almond amber anchor angle ankle antler anvil apple apron arch arrow artist
    aspen atlas attic autumn axle badge badger bagel baker balcony ballad banjo banner barley barn barrel basil
    basin basket beach beacon beaver bench berry birch biscuit blanket blossom bonnet border bottle boulder bowl
    bramble branch brass breeze brick bridge bronze brook broom bubble bucket buckle bugle bundle burrow butter
    button cabin cable cactus camel camera canal candle canoe canvas canyon captain caravan carbon cargo carpet
    carrot castle cavern cedar celery cellar cement chalk chapel charcoal cherry chestnut chimney circle citrus
    clarinet clay cliff clock clover coast cobalt cobweb coconut comet compass copper coral cork corner cottage
    cotton cradle crater crayon cricket crown crystal cuckoo cupboard curtain cushion cymbal daisy dancer dapple
    dawn deck delta desert diamond dinner dolphin doorbell dragon drawer drum eagle easel echo elbow elder ember
    emerald engine envelope fabric falcon farmer feather fennel fern ferry fiddle finch flag flannel flask flint
    flute forest fork fossil fountain fox fresco frost galaxy garden garlic garnet gazelle ginger glacier glass
    globe glove gold goose granite grape gravel griddle guitar hammer harp harvest hatch hazel heather hedge
    helmet heron hinge holly honey hoop horizon hornet hurdle igloo indigo inkwell iris island ivy jacket jaguar
    jasmine jelly jersey jewel jigsaw jungle juniper kayak kernel kettle kitchen kite kitten koala ladder ladle
    lagoon lantern lapwing lark lather laurel lava lavender lawn leaf leather lemon lentil letter lettuce lever
    lichen lilac lily lime linen lizard llama lobster locket lotus lumber lunch magnet magpie mallet mango
    mantle maple marble margin market maroon marsh meadow melody melon mentor meteor midnight mill mineral mint
    mirror mitten monsoon morning mosaic moss moth motor mountain muffin museum mustard napkin nectar needle
    nephew nest nettle nickel noodle nugget nutmeg oak oasis oatmeal oboe ocean octopus olive onion opal orbit
    orchard orchid organ osprey otter oven owl oyster paddle painter palace pancake panda panther papaya paper
    parade parcel parrot parsley pasture pattern peach peanut pearl pebble pelican pencil penguin pepper petal
    piano pickle picnic pigeon pillow pilot pine pixel planet plank plaster plum pocket poem pollen pony poplar
    poppy porch potato potter prairie pretzel prism puddle puffin pumpkin puppet puzzle pyramid quarry quartz
    quill quilt rabbit radish raft rain raisin raven reed ribbon riddle river robin rocket rooster rose ruby
    rudder runner saddle saffron sailor salmon sandal sandwich sapling sapphire satchel saturn scarf school
    scooter seagull season seed shadow shell shelter shovel signal silk silver sketch slate sleigh slipper snail
    snow socket soil sonnet sparrow spider spinach spiral sponge spoon spring spruce squash squirrel stable
    stadium star statue steam stencil stone stork stream sugar summer sunset swallow swan sweater table tablet
    tailor tangerine tartan teapot temple tennis thicket thimble thistle thunder ticket tiger timber toast
    tomato topaz torch tortoise tower tractor trail train trellis triangle trumpet tulip tundra tunnel turnip
    turtle umbrella valley vanilla velvet village vinegar violet violin volcano voyage waffle wagon walnut
    walrus water weaver whale wheat wheel whisker whistle willow window winter wizard wombat woodland wool
    wreath writer yarn yogurt zebra zenith zigzag
    """.split()
)
"""A passphrase is three of these.  The first finds the account, so the other two are what has to be guessed."""

ALIAS_ADJECTIVES = tuple(
    """
    amber ancient autumn azure blue bold brave breezy bright bronze calm careful clever copper coral cosy
    crimson curious daring dashing eager early emerald evening fearless fleet gentle golden graceful green happy
    hidden humble indigo ivory jolly keen kind lively lucky lunar mellow merry midnight mighty misty modest
    morning nimble noble northern patient peaceful plucky polar proud quick quiet rapid rosy rustic sandy
    scarlet shining silent silver sincere snowy solar spring steady still sturdy summer sunny swift tidy true
    velvet violet vivid wandering warm western wild winter wise witty
    """.split()
)
"""First words of an alias."""

ALIAS_NOUNS = tuple(
    """
    acorn albatross alder anchor arch arrow aspen badger beacon beam beaver birch bison boulder breeze brook
    canyon cedar chamois cloud comet compass condor cove crane cricket curlew dolphin dragonfly dune eagle echo
    elm falcon fern finch firefly fjord fox gazelle glacier gull harbour hare hawk hazel hedgehog heron hill
    ibex island ivy jay juniper kestrel kingfisher kite lantern larch lark lighthouse linnet lynx magpie maple
    marten meadow meteor moon moth mountain oak orchid osprey otter owl panda panther pebble pelican penguin
    pine planet plover poplar puffin quail rabbit raven reed reef river robin rocket rowan salmon seal sparrow
    spruce squirrel star stoat stork stream sunbeam swallow swan swift tern thistle thrush tiger torch tower
    turtle valley walnut whale willow wind wolf wren yew zebra
    """.split()
)
"""Second words of an alias."""
