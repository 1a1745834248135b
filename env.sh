snap () 
{ 
    for x in shelf "lot show L1" "lot show L2" "lot show L3" "lot show L4" "garment show G1" "garment show G2" "garment show G3" "garment show G4" "candidates G1" "candidates G2" "candidates G3" "candidates G4";
    do
        echo "## $x";
        ./bin/ellwand $x;
    done > /tmp/trial/snap.$1 2>&1
}
