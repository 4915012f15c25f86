"""What a person asks who meets four faults: which single slip of the hand would explain them all?"""
